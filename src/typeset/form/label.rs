//! What stands in the corner of a field.

use super::{PAD, written_height};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::Length;
use crate::sheet::{Area, Mark, Point};
use crate::typeset::lines::{TextLine, broken};
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

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

/// What is printed beside boxes, where it has room at the right end of their label: it takes no line of its own there.
pub(super) fn beside(field: &FieldBlock, width: Length, room: &Room<'_>) -> Option<TextLine> {
    let text = field.filled.as_ref().filter(|_| field.room.rows == 0 && !field.room.boxes.is_empty())?;
    let one_line = |text: &Text, role| {
        let lines = broken(room.pen, text, room.layout.style(role), width)?;
        <[TextLine; 1]>::try_from(lines).ok().map(|[line]| line)
    };
    let strong = Text::strong(text.words(), text.span);
    let (label, words) = (one_line(&label(field), Role::Label)?, one_line(&strong, Role::Label)?);
    (label.width + PAD * 2 + words.width <= width).then_some(words)
}

/// Draws it.
pub(super) fn set_beside(words: &TextLine, area: Area, room: &Room<'_>, setting: &mut Setting) {
    let baseline = area.top + PAD + room.layout.style(Role::Label).capital();
    let at = Point { x: area.right - words.width, y: baseline };
    setting.marks.extend(words.place(room.pen, at).into_iter().map(Mark::Glyphs));
}
