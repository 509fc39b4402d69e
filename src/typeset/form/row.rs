//! How high an empty row is.

use crate::ground::Length;
use crate::plan::FieldRoom;
use crate::typeset::piece::Room;

/// The kind of room that has squares: its rows are these.
pub(super) const SQUARES: &str = "squares";

/// How much higher than a line to write on a row of a ruled table is, and a row of boxes for words.
const ROW_AIR: Length = Length::hundredths_mm(50);

/// A writing line; a row of a table or of boxes for words is a little higher.
pub(super) fn height(asked: &FieldRoom, room: &Room<'_>) -> Length {
    if asked.kind == SQUARES {
        return asked.least.unwrap_or(room.layout.writing_line);
    }
    let is_plain = asked.words == 0 && asked.columns.is_empty();
    let usual = if is_plain { room.layout.writing_line } else { room.layout.writing_line + ROW_AIR };
    usual.max(asked.least.unwrap_or_default())
}
