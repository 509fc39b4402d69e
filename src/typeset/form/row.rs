//! How high an empty row is.

use super::PAD;
use crate::compose::block::{FieldBlock, Role};
use crate::ground::Length;
use crate::typeset::lines::leading;
use crate::typeset::piece::Room;

/// The kind of room that has squares: its rows are these.
pub(super) const SQUARES: &str = "squares";

/// How much higher than a line to write on a row of a ruled table is, and a row of boxes for words.
const ROW_AIR: Length = Length::hundredths_mm(50);

/// A writing line; a row of a table or of boxes for words is a little higher. Where all that it takes was printed beforehand nobody writes,
/// and it is as high as its words.
pub(super) fn height(field: &FieldBlock, room: &Room<'_>) -> Length {
    let asked = &field.room;
    if asked.kind == SQUARES {
        return asked.least.unwrap_or(room.layout.writing_line);
    }
    let is_plain = asked.words == 0 && asked.columns.is_empty();
    let usual = if is_plain { room.layout.writing_line } else { room.layout.writing_line + ROW_AIR };
    let usual = usual.max(asked.least.unwrap_or_default());
    if asked.columns.is_empty() && !field.cells.is_empty() {
        return usual.min(leading(room.layout.style(Role::Body).size) + PAD * 2);
    }
    usual
}
