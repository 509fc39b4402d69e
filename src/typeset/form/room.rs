//! What one writes into, below the label: how high it is, and how it is drawn.

use super::label::beside;
use super::{PAD, lines, row, squares, table, ticks, words, write, written_height};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::{Findings, Length};
use crate::sheet::Area;
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// How high the parts of a field are, one below the other.
pub(super) struct FieldHeights {
    /// Words that are printed in place of room to write.
    printed: Length,
    /// Boxes with the air around them.
    boxes: Length,
    /// Headings over columns.
    headings: Length,
    /// Each row.
    rows: Vec<Length>,
    /// What is printed from the plan, which stands below the boxes and on the rows.
    filled: Length,
}

impl FieldHeights {
    /// Of a field as wide as `width`.
    pub fn of(field: &FieldBlock, width: Length, room: &Room<'_>) -> Self {
        let (asked, inner) = (&field.room, width - PAD * 2);
        let body = room.layout.style(Role::Body);
        let above = lines::boxes_above(asked, width, room);
        let inner = inner - lines::end_width(asked, width, room);
        let said = |text: &Text| written_height(text, body, inner, room) + PAD;
        let printed = if asked.printed.is_empty() { Length::ZERO } else { said(&Text::own(asked.printed.clone())) };
        Self {
            printed,
            boxes: ticks::height(asked, inner, room) + above,
            headings: if asked.columns.is_empty() { Length::ZERO } else { table::headings_height(field, width, room) },
            rows: table::row_heights(field, width, room),
            filled: below(field, width, room).map_or(Length::ZERO, said),
        }
    }

    /// All of it.
    pub fn whole(&self) -> Length {
        let rows: Length = self.rows.iter().copied().sum();
        self.printed + self.boxes + (self.headings + rows).max(self.filled)
    }

    /// The highest of its rows.
    pub fn highest_row(&self) -> Length {
        self.rows.iter().copied().fold(Length::ZERO, Length::max)
    }
}

/// What is printed in its room, where it stands neither on lines nor at the end of the label.
fn below<'a>(field: &'a FieldBlock, width: Length, room: &Room<'_>) -> Option<&'a Text> {
    let is_elsewhere = lines::is_ruled(field) || beside(field, width - PAD * 2, room).is_some();
    field.filled.as_ref().filter(|_| !is_elsewhere)
}

/// Draws what is below the label.
pub(super) fn set_room(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let asked = &field.room;
    let heights = FieldHeights::of(field, area.width(), room);
    let body = room.layout.style(Role::Body);
    let inner = Area { left: area.left + PAD, right: area.right - PAD, ..area };
    if !asked.printed.is_empty() {
        let words = Text { span: field.label.span, ..Text::own(asked.printed.clone()) };
        write((&words, body), Area { top: area.top - PAD / 2, ..inner }, room, setting, found);
    }
    let top = area.top + heights.printed;
    ticks::set(field, Area { top, ..inner }, room, setting, found);
    // Boxes that stand above a line are drawn with it.
    let of_line = lines::boxes_above(asked, area.width(), room);
    let under = Area { top: top + heights.boxes - of_line, ..area };
    if asked.words > 0 {
        words::set(field, under, room, setting, found);
    } else if !asked.columns.is_empty() {
        table::set(field, under, room, setting, found);
    } else if asked.kind == row::SQUARES {
        squares::set(asked, under, room, setting);
    } else {
        lines::set(field, under, room, setting, found);
    }
    if let Some(text) = below(field, area.width(), room) {
        let top = top + heights.boxes;
        let right = inner.right - lines::end_width(asked, area.width(), room);
        write((text, body), Area { top, right, ..inner }, room, setting, found);
    }
}
