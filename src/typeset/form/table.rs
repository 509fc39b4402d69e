//! A table with ruled rows: in one piece, or row by row over pages, each with the headings.

use super::label::{label, label_height};
use super::row::height as empty_row;
use super::{PAD, entries, lines, ticks, write, written_height};
use crate::compose::block::{Cell, FieldBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::plan::FieldColumn;
use crate::sheet::{Area, EntryKind, Face, HAIRLINE, Point, across, down};
use crate::typeset::pen::{RULE, Style};
use crate::typeset::piece::{Piece, Room};
use crate::typeset::setting::Setting;
use std::rc::Rc;

/// The columns of a field as wide as `width`: their left and right edges.
fn edges(field: &FieldBlock, width: Length) -> Vec<(Length, Length, &FieldColumn)> {
    let columns = &field.room.columns;
    let whole: i64 = columns.iter().map(|column| i64::from(column.share)).sum::<i64>().max(1);
    let mut share = 0;
    let mut edges = Vec::new();
    for column in columns {
        let left = width.fraction(share, whole);
        share += i64::from(column.share);
        edges.push((left, width.fraction(share, whole), column));
    }
    edges
}

/// How high the headings are: as high as the highest.
pub(super) fn headings_height(field: &FieldBlock, width: Length, room: &Room<'_>) -> Length {
    let style = room.layout.style(Role::Label);
    let high = edges(field, width).into_iter().map(|(left, right, column)| {
        written_height(&Text::own(column.heading.clone()), style, right - left - PAD * 2, room)
    });
    high.fold(Length::ZERO, Length::max) + PAD
}

/// The rows of a field: lines, boxes or rows of a table, those with printed words as high as these need.
pub(super) fn row_heights(field: &FieldBlock, width: Length, room: &Room<'_>) -> Vec<Length> {
    let asked = &field.room;
    let empty = empty_row(field, room);
    if asked.columns.is_empty() {
        return vec![empty; usize::from(asked.rows).max(lines::written(field, width, room).len())];
    }
    let rows = usize::from(asked.rows).max(field.cells.len());
    let (edges, ticks) = (edges(field, width), blank_row(field, width, room));
    let mut heights = Vec::new();
    for row in 0..rows {
        let high = edges.iter().enumerate().filter_map(|(place, (left, right, _))| {
            let cell = field.cells.get(row)?.get(place)?.as_ref()?;
            let style = room.layout.style(cell.role);
            let inner = *right - *left - PAD * 2 - number_width(field, place, room);
            Some(written_height(&cell.text, style, inner, room) + PAD * 2)
        });
        heights.push(high.fold(ticks, Length::max));
    }
    heights.extend(asked.is_summed().then_some(empty));
    heights
}

/// A row in which nothing is printed: as high as its boxes want it.
fn blank_row(field: &FieldBlock, width: Length, room: &Room<'_>) -> Length {
    let edges = edges(field, width).into_iter();
    edges
        .map(|(left, right, column)| ticks_height(column, right - left, room))
        .fold(empty_row(field, room), Length::max)
}

fn ticks_height(column: &FieldColumn, width: Length, room: &Room<'_>) -> Length {
    if column.boxes.is_empty() {
        return Length::ZERO;
    }
    let rows = ticks::rows(&column.boxes, width - PAD * 2, room).len();
    (ticks::TICK + PAD) * i64::try_from(rows).unwrap_or(1) + PAD
}

/// What the number of a row takes of its first cell.
fn number_width(field: &FieldBlock, place: usize, room: &Room<'_>) -> Length {
    if !field.room.is_numbered || place > 0 {
        return Length::ZERO;
    }
    let most = usize::from(field.room.rows).max(field.cells.len()).to_string();
    room.pen.width(&"0".repeat(most.len()), number_style(room)) + PAD
}

fn number_style(room: &Room<'_>) -> Style {
    room.layout.style(Role::Label)
}

/// A whole table in one piece; more rows where its line is higher.
pub(super) fn set(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    headings(field, area, room, setting, found);
    let mut heights = row_heights(field, area.width(), room);
    let sum = heights.pop().filter(|_| field.room.is_summed());
    if sum.is_none() {
        heights = row_heights(field, area.width(), room);
    }
    let empty = blank_row(field, area.width(), room);
    let mut top = area.top + headings_height(field, area.width(), room);
    let rows: Length = heights.iter().copied().sum();
    let more = (area.bottom - top - rows - sum.unwrap_or_default()).as_grains() / empty.as_grains().max(1);
    heights.extend(std::iter::repeat_n(empty, usize::try_from(more).unwrap_or(0)));
    for (row, height) in heights.into_iter().enumerate() {
        setting.marks.push(across(area.left, area.right, top, HAIRLINE));
        row_marks(field, row, Area { top, bottom: top + height, ..area }, room, setting, found);
        top += height;
    }
    if let Some(height) = sum {
        setting.marks.push(across(area.left, area.right, top, RULE));
        sum_marks(field, Area { top, bottom: top + height, ..area }, room, setting, found);
        top += height;
    }
    if top < area.bottom {
        setting.marks.push(across(area.left, area.right, top, HAIRLINE));
    }
    for (_, right, _) in edges(field, area.width()) {
        if area.left + right < area.right {
            setting.marks.push(down(area.left + right, area.top, area.bottom, HAIRLINE));
        }
    }
}

fn headings(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let style = room.layout.style(Role::Label);
    for (left, right, column) in edges(field, area.width()) {
        let place =
            Area { left: area.left + left + PAD, right: area.left + right - PAD, top: area.top - PAD / 2, ..area };
        let words = Text { span: field.label.span, ..Text::own(column.heading.clone()) };
        write((&words, style), place, room, setting, found);
    }
}

/// What is printed in a row: its number, its cells, boxes to tick.
#[expect(clippy::too_many_arguments, reason = "a row of a field, where it stands, and what is drawn with and into")]
fn row_marks(field: &FieldBlock, row: usize, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    for (place, (left, right, column)) in edges(field, area.width()).into_iter().enumerate() {
        let left = area.left + left + PAD;
        let cell = Area { left, right: area.left + right - PAD, ..area };
        let number = number_width(field, place, room);
        if number > Length::ZERO {
            let style = number_style(room);
            let words = Text::strong((row + 1).to_string(), Span::NOWHERE);
            let baseline = area.top + (empty_row(field, room) + style.capital()) / 2;
            let line = room.pen.line(&words, style, Point { x: left, y: baseline });
            setting.marks.extend(line.into_iter().map(crate::sheet::Mark::Glyphs));
        }
        let printed = field.cells.get(row).and_then(|cells| cells.get(place)?.as_ref());
        if let Some(Cell { text, role, .. }) = printed {
            let style = room.layout.style(*role);
            let inner = Area { left: left + number, ..cell };
            let high = written_height(text, style, inner.width(), room);
            let top = area.top + (area.bottom - area.top - high) / 2 - PAD / 2;
            let text =
                Text { span: if text.span == Span::NOWHERE { field.label.span } else { text.span }, ..text.clone() };
            write((&text, style), Area { top, ..inner }, room, setting, found);
        } else if !column.boxes.is_empty() {
            let is_wide = |word: &&String| {
                let style = room.layout.style(Role::Body);
                ticks::TICK + PAD + room.pen.width(word, style) > cell.width()
            };
            if let Some(word) = column.boxes.iter().find(is_wide) {
                let text = Text { span: field.label.span, ..Text::own(word.clone()) };
                room.too_wide(&text, cell.width(), found);
                continue;
            }
            let style = room.layout.style(Role::Body);
            let rows = ticks::rows(&column.boxes, cell.width(), room);
            let high = (ticks::TICK + PAD) * i64::try_from(rows.len()).unwrap_or(1) - PAD;
            let mut top = area.top + (area.bottom - area.top - high) / 2;
            for words in rows {
                for (word, x) in words {
                    let at = Point { x: cell.left + x, y: top };
                    let which = format!("row {}, {}, {word}", row + 1, column.heading);
                    entries::add(field, (&which, EntryKind::Tick), ticks::area(at), room, setting);
                    ticks::set_one((word, style), at, (field, room), setting);
                }
                top += ticks::TICK + PAD;
            }
        } else {
            let which = format!("row {}, {}", row + 1, column.heading);
            let place = Area { left: left + number - PAD, right: cell.right + PAD, ..cell };
            entries::add(field, (&which, EntryKind::Line), place, room, setting);
        }
    }
}

/// The last row of a table whose columns are added up.
fn sum_marks(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let first = edges(field, area.width()).first().map_or(Length::ZERO, |(_, right, _)| *right - PAD * 2);
    if room.pen.width("Total", Style { face: Face::Bold, ..room.layout.style(Role::Body) }) > first {
        let text = Text { span: field.label.span, ..Text::own("Total") };
        room.too_wide(&text, first, found);
        return;
    }
    let style = room.layout.style(Role::Body);
    let baseline = area.top + (area.bottom - area.top + style.capital()) / 2;
    let line = room.pen.line(&Text::strong("Total", Span::NOWHERE), style, Point { x: area.left + PAD, y: baseline });
    let is_first_summed = field.room.columns.first().is_some_and(|column| column.is_summed);
    setting.marks.extend(line.into_iter().filter(|_| !is_first_summed).map(crate::sheet::Mark::Glyphs));
    for (left, right, column) in edges(field, area.width()).into_iter().filter(|(_, _, column)| column.is_summed) {
        let place = Area { left: area.left + left, right: area.left + right, ..area };
        entries::add(field, (&format!("total, {}", column.heading), EntryKind::Line), place, room, setting);
    }
}

/// A table that goes on over pages: a piece for each row, under the label and the headings, which stand on every page; and on those behind
/// the first under what tells the sheet.
pub(super) fn over_pages(
    field: &FieldBlock,
    (spare, again): (Length, Option<&Setting>),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let mut heights = row_heights(field, room.width, room);
    let sum = if field.room.is_summed() { heights.pop() } else { None };
    let empty = blank_row(field, room.width, room);
    let more = spare.as_grains() / empty.as_grains().max(1);
    heights.extend(std::iter::repeat_n(empty, usize::try_from(more).unwrap_or(0)));
    let head = Rc::new(head(field, room, found));
    let behind = again.map_or_else(|| Rc::clone(&head), |again| Rc::new(below(again, &head)));
    let count = heights.len();
    let mut pieces = Vec::new();
    for (row, height) in heights.into_iter().chain(sum).enumerate() {
        let area = Area { left: Length::ZERO, top: Length::ZERO, right: room.width, bottom: height };
        let mut setting = Setting { marks: Vec::new(), height };
        if row < count {
            row_marks(field, row, area, room, &mut setting, found);
        } else {
            sum_marks(field, area, room, &mut setting, found);
        }
        sides(field, area, &mut setting);
        setting.marks.push(across(
            Length::ZERO,
            room.width,
            height,
            if row + 1 == count && sum.is_some() { RULE } else { HAIRLINE },
        ));
        pieces.push(Piece {
            setting,
            span: field.label.span,
            words: field.label.words(),
            head: Some(Rc::clone(if row == 0 { &head } else { &behind })),
            also: Some(Rc::clone(if row == 0 { &behind } else { &head })),
            is_framed: true,
            is_row: true,
            is_open: true,
            // The sum stands under a row, never under headings alone.
            keeps_next: row + 1 == count && sum.is_some(),
            ..Piece::default()
        });
    }
    pieces
}

/// One setting above another.
fn below(above: &Setting, head: &Setting) -> Setting {
    let mut marks = above.marks.clone();
    marks.extend(head.at(Point { x: Length::ZERO, y: above.height }));
    Setting { marks, height: above.height + head.height }
}

/// The frame at both sides of a row, and what parts its columns.
fn sides(field: &FieldBlock, area: Area, setting: &mut Setting) {
    setting.marks.push(down(area.left, area.top, area.bottom, RULE));
    setting.marks.push(down(area.right, area.top, area.bottom, RULE));
    for (_, right, _) in edges(field, area.width()) {
        if right < area.right {
            setting.marks.push(down(right, area.top, area.bottom, HAIRLINE));
        }
    }
}

fn head(field: &FieldBlock, room: &Room<'_>, found: &mut Findings) -> Setting {
    let inner = room.width - PAD * 2;
    let top = label_height(field, inner, room);
    let height = top + headings_height(field, room.width, room);
    let mut setting = Setting { marks: Vec::new(), height };
    let words = Area { left: PAD, top: Length::ZERO, right: room.width - PAD, bottom: top };
    write((&label(field), room.layout.style(Role::Label)), words, room, &mut setting, found);
    let area = Area { left: Length::ZERO, top, right: room.width, bottom: height };
    headings(field, area, room, &mut setting, found);
    sides(field, area, &mut setting);
    for x in [Length::ZERO, room.width] {
        setting.marks.push(down(x, Length::ZERO, top, RULE));
    }
    setting.marks.push(across(Length::ZERO, room.width, Length::ZERO, RULE));
    setting.marks.push(across(Length::ZERO, room.width, height, HAIRLINE));
    setting
}
