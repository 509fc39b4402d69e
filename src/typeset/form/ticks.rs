//! Boxes to tick, with their words, and what each means where the form says it.

use super::{PAD, entries, write, written_height};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::plan::FieldRoom;
use crate::sheet::{Area, EntryKind, Face, Mark, Point};
use crate::typeset::pen::{RULE, Style, frame};
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// A box to tick: large enough for a hand in a glove.
pub(super) const TICK: Length = Length::mm(5);

/// How much a box with its word takes of a line, with the air behind it.
pub(super) fn width(word: &str, style: Style, room: &Room<'_>) -> Length {
    TICK + PAD + room.pen.width(word, style) + PAD * 3
}

/// Boxes with the air around them; nothing where there are none.
pub(super) fn height(asked: &FieldRoom, width: Length, room: &Room<'_>) -> Length {
    if asked.boxes.is_empty() {
        return Length::ZERO;
    }
    let rows: Length = match asked.meanings.is_empty() {
        true => rows_height(&asked.boxes, width, room),
        false => asked.boxes.iter().zip(&asked.meanings).map(|said| told_height(said, width, room)).sum(),
    };
    rows + PAD
}

/// Draws the boxes of a field.
pub(super) fn set(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let asked = &field.room;
    let style = room.layout.style(Role::Body);
    let mut top = area.top + PAD / 2;
    if !asked.meanings.is_empty() {
        for said in asked.boxes.iter().zip(&asked.meanings) {
            let box_area = Area { left: area.left, top, right: area.left + TICK, bottom: top + TICK };
            set_box((field, said.0), Point { x: area.left, y: top }, room, setting);
            entries::add(field, (said.0, EntryKind::Tick), box_area, room, setting);
            let told = told(said, field.label.span);
            // The first line stands at the middle of its box.
            let under = (TICK - style.capital()) / 2 - PAD;
            let words = Area { left: area.left + TICK + PAD, top: top + under, ..area };
            write((&told, style), words, room, setting, found);
            top += told_height(said, area.width(), room);
        }
        return;
    }
    set_rows(field, &asked.boxes, Area { top, ..area }, room, setting, found);
}

/// Draws boxes in rows, from the top of an area on.
#[expect(clippy::too_many_arguments, reason = "boxes of a field, where they stand, and what is drawn with and into")]
pub(super) fn set_rows(
    field: &FieldBlock,
    boxes: &[String],
    area: Area,
    room: &Room<'_>,
    setting: &mut Setting,
    found: &mut Findings,
) {
    let style = room.layout.style(Role::Body);
    let is_wide = |word: &&String| TICK + PAD + room.pen.width(word, style) > area.width();
    if let Some(word) = boxes.iter().find(is_wide) {
        let text = Text { span: field.label.span, ..Text::own(word.clone()) };
        room.too_wide(&text, area.width(), found);
        return;
    }
    let mut top = area.top;
    for row in rows(boxes, area.width(), room) {
        for (word, x) in row {
            let at = Point { x: area.left + x, y: top };
            entries::add(field, (word, EntryKind::Tick), self::area(at), room, setting);
            set_one((word, style), at, (field, room), setting);
        }
        top += TICK + PAD;
    }
}

/// How high rows of boxes are.
pub(super) fn rows_height(boxes: &[String], width: Length, room: &Room<'_>) -> Length {
    (TICK + PAD) * i64::try_from(rows(boxes, width, room).len()).unwrap_or(1)
}

/// A box by its top left corner.
pub(super) fn area(at: Point) -> Area {
    Area { left: at.x, top: at.y, right: at.x + TICK, bottom: at.y + TICK }
}

/// A box and its word from a top left corner on; where the next may begin.
pub(super) fn set_one(
    (word, style): (&str, Style),
    at: Point,
    (field, room): (&FieldBlock, &Room<'_>),
    setting: &mut Setting,
) -> Length {
    let span = field.label.span;
    set_box((field, word), at, room, setting);
    let words = Point { x: at.x + TICK + PAD, y: at.y + (TICK + style.capital()) / 2 };
    setting.marks.push(Mark::Glyphs(room.pen.write(word, style, span, words)));
    at.x + width(word, style, room)
}

/// How large the letter is that stands in a ticked box: its capital fills two thirds of it.
const CROSS: Length = Length::pt(14);

/// A box, ticked where its word is.
fn set_box((field, word): (&FieldBlock, &str), at: Point, room: &Room<'_>, setting: &mut Setting) {
    setting.marks.extend(frame(area(at), RULE));
    if !field.ticked.iter().any(|ticked| ticked == word) {
        return;
    }
    let style = Style { face: Face::Bold, size: CROSS, ..room.layout.style(Role::Body) };
    let x = at.x + (TICK - room.pen.width("X", style)) / 2;
    let at = Point { x, y: at.y + (TICK + style.capital()) / 2 };
    setting.marks.push(Mark::Glyphs(room.pen.write("X", style, field.label.span, at)));
}

/// `Priority: has a time limit`.
fn told((word, meaning): (&String, &String), span: Span) -> Text {
    Text::strong(word.clone(), span).then(format!(": {meaning}"))
}

fn told_height(said: (&String, &String), width: Length, room: &Room<'_>) -> Length {
    let style = room.layout.style(Role::Body);
    let words = written_height(&told(said, Span::NOWHERE), style, width - TICK - PAD, room);
    (words + (TICK - style.capital()) / 2).max(TICK + PAD)
}

/// Which words stand on which row, with their left edges.
pub(super) fn rows<'a>(words: &'a [String], width: Length, room: &Room<'_>) -> Vec<Vec<(&'a str, Length)>> {
    let style = room.layout.style(Role::Body);
    let mut rows: Vec<Vec<(&str, Length)>> = vec![Vec::new()];
    let mut x = Length::ZERO;
    for word in words {
        let taken = TICK + PAD + room.pen.width(word, style);
        if x > Length::ZERO && x + taken > width {
            rows.push(Vec::new());
            x = Length::ZERO;
        }
        if let Some(row) = rows.last_mut() {
            row.push((word, x));
        }
        x += taken + PAD * 3;
    }
    rows
}
