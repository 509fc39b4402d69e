//! What stands in the corner of a field.

use super::{PAD, written_height};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::Length;
use crate::typeset::piece::Room;

/// The label with its number in front and its help behind.
pub(super) fn label(field: &FieldBlock) -> Text {
    let mut text = Text { runs: Vec::new(), span: field.label.span };
    if let Some(number) = &field.number {
        text = text.then_strong(format!("{number} "));
    }
    text.runs.extend(field.label.runs.iter().cloned());
    if let Some(help) = &field.help {
        text = text.then(format!(" ({})", help.words()));
    }
    text
}

pub(super) fn label_height(field: &FieldBlock, width: Length, room: &Room<'_>) -> Length {
    let text = label(field);
    if text.is_empty() {
        return Length::ZERO;
    }
    written_height(&text, room.layout.style(Role::Label), width, room) + PAD
}
