//! Boxes for single words with the running total behind each row.

use super::row;
use super::{PAD, entries};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Area, EntryKind, HAIRLINE, Mark, Point, across, down};
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// Right of the boxes, for the running total.
const TOTAL: Length = Length::mm(8);

pub(super) fn set(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let asked = &field.room;
    let style = room.layout.style(Role::Label);
    let (right, height) = (area.right - TOTAL, row::height(field, room));
    let columns = asked.words;
    let mut rows = 0;
    let mut top = area.top;
    while top + height <= area.bottom {
        rows += 1;
        setting.marks.push(across(area.left, area.right, top, HAIRLINE));
        let total = (i64::from(columns) * rows).to_string();
        let x = area.right - PAD - room.pen.width(&total, style);
        let at = Point { x, y: top + (height + style.capital()) / 2 };
        setting.marks.push(Mark::Glyphs(room.pen.write(&total, style, Span::NOWHERE, at)));
        for word in 0..i64::from(columns) {
            let edge = |n: i64| area.left + (right - area.left).fraction(n, i64::from(columns));
            let place = Area { left: edge(word), right: edge(word + 1), top, bottom: top + height };
            let which = format!("word {}", (rows - 1) * i64::from(columns) + word + 1);
            entries::add(field, (&which, EntryKind::Line), place, room, setting);
            let cell =
                |row: i64| field.cells.get(usize::try_from(row).ok()?)?.get(usize::try_from(word).ok()?)?.as_ref();
            if let Some(cell) = cell(rows - 1) {
                set_word(&cell.text, place, room, setting, found);
            }
        }
        top += height;
    }
    // Where the line is higher than its rows, the last is closed.
    if top < area.bottom {
        setting.marks.push(across(area.left, area.right, top, HAIRLINE));
    }
    for column in 1..=i64::from(columns) {
        let x = area.left + (right - area.left).fraction(column, i64::from(columns));
        setting.marks.push(down(x, area.top, area.top + height * rows, HAIRLINE));
    }
}

/// A word in its box; in the size of labels where it is too long for the usual one.
fn set_word(word: &Text, place: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let (words, inner) = (word.words(), place.width() - PAD * 2);
    let sizes = [Role::Body, Role::Label].map(|role| room.layout.style(role));
    let Some(style) = sizes.into_iter().find(|style| room.pen.width(&words, *style) <= inner) else {
        room.too_wide(word, inner, found);
        return;
    };
    let baseline = place.top + (place.bottom - place.top + style.capital()) / 2;
    let at = Point { x: place.left + PAD, y: baseline };
    setting.marks.push(Mark::Glyphs(room.pen.write(&words, style, word.span, at)));
}
