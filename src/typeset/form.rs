//! Boxes to write in: the label in the corner, room for a hand in a glove below it.

use super::lines::{broken, leading};
use super::pen::{RULE, frame};
use super::piece::{Piece, PieceRows, Room};
use super::setting::Setting;
use crate::compose::block::{FieldBlock, FieldLine, FormBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::plan::{FieldColumn, FieldRoom};
use crate::sheet::{Area, HAIRLINE, Mark, Point, across, down};

/// Between a frame and the words in it.
const PAD: Length = Length::hundredths_mm(110);
/// How much higher than a line to write on a row of a ruled table is, and a row of boxes for words.
const ROW_AIR: Length = Length::hundredths_mm(50);
/// A box to tick.
const TICK: Length = Length::hundredths_mm(330);
/// Right of the boxes for words, for the running total.
const TOTAL: Length = Length::mm(8);

/// The pieces of a form, one a line of fields. A filling table takes what of `spare` the form does not need itself.
pub(super) fn form_pieces(form: &FormBlock, room: &Room<'_>, spare: Length, found: &mut Findings) -> Vec<Piece> {
    let heights: Vec<Length> = form.lines.iter().map(|line| height(line, room)).collect();
    let row = table_row(room);
    let left = spare - heights.iter().copied().sum();
    let filling = form.lines.iter().position(|line| line.fields.iter().any(|field| field.room.is_filling));
    let mut pieces = Vec::new();
    for (index, (line, least)) in form.lines.iter().zip(&heights).enumerate() {
        let more = if filling == Some(index) { (left.max(Length::ZERO)).as_grains() / row.as_grains() } else { 0 };
        let height = *least + row * more;
        let mut setting = Setting { marks: Vec::new(), height };
        let mut x = Length::ZERO;
        for field in &line.fields {
            let width = room.width.fraction(i64::from(field.share), 12);
            let area = Area { left: x, top: Length::ZERO, right: x + width, bottom: height };
            set_field(field, area, room, &mut setting, found);
            x += width;
        }
        let rows = rows(line, room);
        let first = rows.map(|(field, _)| field).or(line.fields.first());
        pieces.push(Piece {
            setting,
            span: first.map_or(Span::NOWHERE, |field| field.label.span),
            words: first.map(|field| field.label.words()).unwrap_or_default(),
            is_framed: true,
            rows: rows.map(|(_, rows)| rows),
            ..Piece::default()
        });
    }
    pieces
}

fn height(line: &FieldLine, room: &Room<'_>) -> Length {
    line.fields.iter().map(|field| field_height(field, room)).fold(Length::ZERO, Length::max)
}

fn field_height(field: &FieldBlock, room: &Room<'_>) -> Length {
    let width = room.width.fraction(i64::from(field.share), 12) - PAD * 2;
    let label = label_height(field, width, room);
    let written = field.filled.as_ref().and_then(|text| broken(room.pen, text, room.layout.style(Role::Body), width));
    let written = written.map_or(Length::ZERO, |lines| {
        leading(room.layout.style(Role::Body).size) * i64::try_from(lines.len()).unwrap_or(0) + PAD
    });
    let body = boxes_height(&field.room, width, room) + rows_height(&field.room, room);
    label + body.max(written)
}

/// Boxes with the air around them; nothing where there are none.
fn boxes_height(field: &FieldRoom, width: Length, room: &Room<'_>) -> Length {
    if field.boxes.is_empty() {
        return Length::ZERO;
    }
    let rows = i64::try_from(tick_rows(&field.boxes, width, room).len()).unwrap_or(1);
    (TICK + PAD) * rows + PAD
}

/// Rows with the headings over them.
fn rows_height(field: &FieldRoom, room: &Room<'_>) -> Length {
    let headings = if field.columns.is_empty() { Length::ZERO } else { heading_height(room) };
    row_height(field, room) * i64::from(field.rows) + headings
}

/// A writing line; a row of a table or of boxes is a little higher.
fn row_height(field: &FieldRoom, room: &Room<'_>) -> Length {
    let is_plain = field.words == 0 && field.columns.is_empty();
    if is_plain { room.layout.writing_line } else { table_row(room) }
}

fn table_row(room: &Room<'_>) -> Length {
    room.layout.writing_line + ROW_AIR
}

/// The rows by which a line of fields is as high as it is, and the field that has them.
fn rows<'a>(line: &'a FieldLine, room: &Room<'_>) -> Option<(&'a FieldBlock, PieceRows)> {
    let mut heights: Vec<(Length, &FieldBlock)> =
        line.fields.iter().map(|field| (field_height(field, room), field)).collect();
    heights.sort_by_key(|(height, _)| std::cmp::Reverse(*height));
    let (highest, field) = heights.first().copied()?;
    let next = heights.get(1).map_or(Length::ZERO, |(height, _)| *height);
    let (key, count) = (field.room.rows_key?, field.room.rows);
    let height = row_height(&field.room, room);
    Some((field, PieceRows { key, count, height, spare: highest - next }))
}

/// The label with its number in front and its help behind.
fn label(field: &FieldBlock) -> Text {
    let number = field.number.map(|number| format!("{number} ")).unwrap_or_default();
    let mut text = Text { runs: Vec::new(), span: field.label.span };
    if !number.is_empty() {
        text = text.then_strong(number);
    }
    text.runs.extend(field.label.runs.iter().cloned());
    if let Some(help) = &field.help {
        text = text.then(format!(" ({})", help.words()));
    }
    text
}

fn label_height(field: &FieldBlock, width: Length, room: &Room<'_>) -> Length {
    let style = room.layout.style(Role::Label);
    let text = label(field);
    if text.is_empty() {
        return Length::ZERO;
    }
    let lines = broken(room.pen, &text, style, width).map_or(1, |lines| lines.len());
    leading(style.size) * i64::try_from(lines).unwrap_or(1) + PAD
}

fn heading_height(room: &Room<'_>) -> Length {
    leading(room.layout.style(Role::Label).size) + PAD
}

fn set_field(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let inner = Area { left: area.left + PAD, right: area.right - PAD, ..area };
    let style = room.layout.style(Role::Label);
    let top = area.top + label_height(field, inner.width(), room);
    write((&label(field), style), Area { bottom: top, ..inner }, room, setting, found);
    let body = Area { top, ..area };
    let within = Area { left: inner.left, right: inner.right, ..body };
    ticks(field, within, room, setting);
    let below = Area { top: top + boxes_height(&field.room, inner.width(), room), ..body };
    rows_to_write_on(&field.room, below, room, setting, found);
    if let Some(text) = &field.filled {
        write((text, room.layout.style(Role::Body)), within, room, setting, found);
    }
    setting.marks.extend(frame(area, RULE));
}

/// Words from the top left corner of a box, broken at its width.
fn write(
    (text, style): (&Text, super::pen::Style),
    area: Area,
    room: &Room<'_>,
    setting: &mut Setting,
    found: &mut Findings,
) {
    let Some(lines) = broken(room.pen, text, style, area.width()) else {
        room.too_wide(text, area.width(), found);
        return;
    };
    let mut baseline = area.top + PAD + style.capital();
    for line in lines {
        setting.marks.extend(line.place(room.pen, Point { x: area.left, y: baseline }).into_iter().map(Mark::Glyphs));
        baseline += leading(style.size);
    }
}

fn rows_to_write_on(field: &FieldRoom, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    if field.words > 0 {
        word_boxes(field, area, room, setting);
    } else if !field.columns.is_empty() {
        ruled(&field.columns, area, room, setting, found);
    } else {
        writing_lines(field.rows, room.layout.writing_line, area, setting);
    }
}

/// Hairlines from the bottom up, so that the frame is the last line.
fn writing_lines(lines: u8, apart: Length, area: Area, setting: &mut Setting) {
    for line in 1..i64::from(lines) {
        let y = area.bottom - apart * line;
        setting.marks.push(across(area.left + PAD, area.right - PAD, y, HAIRLINE));
    }
}

/// Which words stand on which row, with their left edges.
fn tick_rows<'a>(words: &'a [String], width: Length, room: &Room<'_>) -> Vec<Vec<(&'a str, Length)>> {
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

fn ticks(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting) {
    let style = room.layout.style(Role::Body);
    let mut top = area.top + PAD / 2;
    for row in tick_rows(&field.room.boxes, area.width(), room) {
        for (word, x) in row {
            let left = area.left + x;
            setting.marks.extend(frame(Area { left, top, right: left + TICK, bottom: top + TICK }, RULE));
            let at = Point { x: left + TICK + PAD, y: top + (TICK + style.capital()) / 2 };
            setting.marks.push(Mark::Glyphs(room.pen.write(word, style, field.label.span, at)));
        }
        top += TICK + PAD;
    }
}

/// Boxes for single words with the running total behind each row.
fn word_boxes(field: &FieldRoom, area: Area, room: &Room<'_>, setting: &mut Setting) {
    let style = room.layout.style(Role::Label);
    let (right, height) = (area.right - TOTAL, table_row(room));
    let (columns, rows) = (field.words, field.rows);
    for row in 0..i64::from(rows) {
        let top = area.top + height * row;
        setting.marks.push(across(area.left, area.right, top, HAIRLINE));
        let total = (i64::from(columns) * (row + 1)).to_string();
        let x = area.right - PAD - room.pen.width(&total, style);
        let at = Point { x, y: top + (height + style.capital()) / 2 };
        setting.marks.push(Mark::Glyphs(room.pen.write(&total, style, Span::NOWHERE, at)));
    }
    for column in 1..=i64::from(columns) {
        let x = area.left + (right - area.left).fraction(column, i64::from(columns));
        setting.marks.push(down(x, area.top, area.top + height * i64::from(rows), HAIRLINE));
    }
}

fn ruled(columns: &[FieldColumn], area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let style = room.layout.style(Role::Label);
    let top = area.top + heading_height(room);
    let whole: i64 = columns.iter().map(|column| i64::from(column.share)).sum();
    let mut share = 0;
    for FieldColumn { heading, share: taken } in columns {
        let left = area.left + area.width().fraction(share, whole.max(1));
        share += i64::from(*taken);
        let right = area.left + area.width().fraction(share, whole.max(1));
        let place = Area { left: left + PAD, right: right - PAD, top: area.top - PAD / 2, bottom: top };
        write((&Text::own(heading.clone()), style), place, room, setting, found);
        if share < whole {
            setting.marks.push(down(right, area.top, area.bottom, HAIRLINE));
        }
    }
    let row = table_row(room);
    let mut y = area.bottom - row;
    while y >= top {
        setting.marks.push(across(area.left, area.right, y, HAIRLINE));
        y -= row;
    }
}
