//! Lines to write on, with a zone at the end of the last where a time is written.

use super::row;
use super::{PAD, entries, ticks};
use crate::compose::block::{FieldBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::plan::FieldRoom;
use crate::sheet::{Area, EntryKind, HAIRLINE, Mark, Point, across};
use crate::typeset::lines::TextLine;
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// How far above the frame one signs.
const SIGNED: Length = Length::hundredths_mm(220);

/// Hairlines from the bottom up, so that the frame is the last line.
pub(super) fn set(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let asked = &field.room;
    if asked.rows == 0 {
        return;
    }
    let apart = row::height(field, room);
    let mut y = area.bottom - apart;
    while y >= area.top + apart - Length::mm(1) {
        setting.marks.push(across(area.left + PAD, area.right - PAD, y, HAIRLINE));
        y -= apart;
    }
    set_written(field, area, room, setting, found);
    let style = room.layout.style(Role::Label);
    let baseline = area.bottom - PAD - style.tail();
    if asked.kind == "signature" {
        let at = Point { x: area.left + PAD, y: area.bottom - SIGNED - PAD / 2 };
        setting.marks.push(Mark::Glyphs(room.pen.write("x", style, Span::NOWHERE, at)));
        let from = area.left + PAD * 2 + room.pen.width("x", style);
        setting.marks.push(across(from, area.right - PAD, area.bottom - SIGNED, HAIRLINE));
    }
    if !asked.at_end.is_empty() {
        if room.pen.width(&asked.at_end, style) > area.width() - PAD * 2 {
            room.too_wide(&field.label, area.width(), found);
            return;
        }
        let x = area.right - PAD - room.pen.width(&asked.at_end, style);
        setting.marks.push(Mark::Glyphs(room.pen.write(&asked.at_end, style, Span::NOWHERE, Point { x, y: baseline })));
    }
    let end = end_width(asked, area.width(), room);
    if field.filled.is_none() {
        let kind = if asked.rows > 1 { EntryKind::Lines } else { EntryKind::Line };
        let written = Area { right: area.right - end, top: area.top + boxes_above(asked, area.width(), room), ..area };
        entries::add(field, ("", kind), written, room, setting);
    }
    if end == Length::ZERO {
        let inner = Area { left: area.left + PAD, right: area.right - PAD, ..area };
        ticks::set_rows(field, &asked.end_boxes, inner, room, setting, found);
        return;
    }
    let mut x = area.right - end;
    for word in &asked.end_boxes {
        let at = Point { x, y: area.bottom - PAD - ticks::TICK };
        entries::add(field, (word, EntryKind::Tick), ticks::area(at), room, setting);
        x = ticks::set_one((word, style), at, (field, room), setting);
    }
}

/// Whether what is printed in it stands on its lines, as somebody would write it: where it has several.
pub(super) fn is_ruled(field: &FieldBlock) -> bool {
    field.room.kind == "lines" && (field.room.rows > 1 || !field.cells.is_empty())
}

/// What is printed on its lines, from the first on; nothing where it does not fit, which is told when they are drawn.
pub(super) fn written(field: &FieldBlock, width: Length, room: &Room<'_>) -> Vec<TextLine> {
    texts(field).flat_map(|text| broken_at(text, width, room).unwrap_or_default()).collect()
}

fn texts(field: &FieldBlock) -> impl Iterator<Item = &Text> {
    let of_cells = field.cells.iter().flatten().flatten().map(|cell| &cell.text);
    of_cells.chain(&field.filled).filter(|_| is_ruled(field))
}

fn broken_at(text: &Text, width: Length, room: &Room<'_>) -> Option<Vec<TextLine>> {
    crate::typeset::lines::broken(room.pen, text, room.layout.style(Role::Body), width - PAD * 2)
}

fn set_written(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    if let Some(wide) = texts(field).find(|text| broken_at(text, area.width(), room).is_none()) {
        room.too_wide(wide, area.width() - PAD * 2, found);
        return;
    }
    let (apart, tail) = (row::height(field, room), room.layout.style(Role::Body).tail());
    let rows = (area.bottom - area.top).as_grains() / apart.as_grains().max(1);
    let mut line = area.bottom - apart * (rows - 1);
    for text in written(field, area.width(), room) {
        let at = Point { x: area.left + PAD, y: line - PAD - tail };
        setting.marks.extend(text.place(room.pen, at).into_iter().map(Mark::Glyphs));
        line += apart;
    }
}

/// The least width in which a date and a time are written by hand.
const WRITTEN: Length = Length::mm(26);

/// What the zone at the end of a line takes of its width, with the air before it. Nothing where no room to write would be left: boxes
/// then stand above the line.
pub(super) fn end_width(asked: &FieldRoom, width: Length, room: &Room<'_>) -> Length {
    let whole = whole_end_width(asked, room);
    let is_above = !asked.end_boxes.is_empty() && width - PAD - whole < WRITTEN;
    if is_above { Length::ZERO } else { whole }
}

/// How high boxes are that stand above the line.
pub(super) fn boxes_above(asked: &FieldRoom, width: Length, room: &Room<'_>) -> Length {
    let is_above = !asked.end_boxes.is_empty() && end_width(asked, width, room) == Length::ZERO;
    if is_above { ticks::rows_height(&asked.end_boxes, width - PAD * 2, room) } else { Length::ZERO }
}

fn whole_end_width(asked: &FieldRoom, room: &Room<'_>) -> Length {
    let style = room.layout.style(Role::Label);
    let words = if asked.at_end.is_empty() { Length::ZERO } else { room.pen.width(&asked.at_end, style) + PAD * 2 };
    let boxes = asked.end_boxes.iter().map(|word| ticks::width(word, style, room));
    words + boxes.sum::<Length>()
}
