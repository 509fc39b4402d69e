//! Cells of a grid in which somebody writes: a line as long as the column is wide, in a row that is high enough for a hand.

use super::piece::Room;
use crate::compose::block::{Cell, Text};
use crate::ground::Length;
use std::borrow::Cow;

/// Letters of the shortest line to write on, and of the longest.
const LEAST_LINE: usize = 8;
const MOST_LINE: usize = 200;
/// From the top of a row to a line on which somebody writes: a finger's breadth below the last one (common practice, no source).
const WRITTEN: Length = Length::hundredths_mm(480);
/// The same where closer rows spare a page.
const CLOSE_WRITTEN: Length = Length::hundredths_mm(450);

/// How far down in a row a line to write on stands at least.
pub(super) const fn written(room: &Room<'_>) -> Length {
    if room.layout.is_close { CLOSE_WRITTEN } else { WRITTEN }
}

/// Whether a text is a line to write on; shorter ones are for a tick.
pub(super) fn is_to_write(text: &Text) -> bool {
    let words = text.words();
    words.len() >= LEAST_LINE && words.bytes().all(|letter| letter == b'_')
}

/// A line to write on, as long as its column is wide.
pub(super) fn lined<'a>(cell: &'a Cell, width: Length, room: &Room<'_>) -> Cow<'a, Cell> {
    if !is_to_write(&cell.text) {
        return Cow::Borrowed(cell);
    }
    let one = room.pen.width("_", room.layout.style(cell.role)).as_grains().max(1);
    let count = usize::try_from(width.as_grains() / one).unwrap_or(0).clamp(LEAST_LINE, MOST_LINE);
    Cow::Owned(Cell { text: Text::plain("_".repeat(count), cell.text.span), ..cell.clone() })
}
