//! Rows of several lines: first what is set, in columns that stand under each other; then what is said and what to do.
//!
//! Rule of thumb: digits first. Numbers stand point under point; words among them are smaller, on the same baseline.

use super::layout::TableSet;
use super::lines::{TextLine, broken, leading};
use super::piece::{Piece, Room};
use super::row_columns::{self, AIR, FirstLine, GAP, NumberColumn, head, heading, width};
use super::setting::Setting;
use crate::compose::block::{Cell, Role, Row, Table, Text};
use crate::ground::{Findings, Length};
use crate::sheet::{Mark, Point};
use std::rc::Rc;

/// Between the words of one line.
const BETWEEN: &str = ", ";

/// The pieces of a table, one a row.
pub(super) fn row_pieces(table: &Table, set: &TableSet, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let TableSet::Rows { left, right, below } = set else { return Vec::new() };
    let columns = row_columns::first_line(table, left, right, room);
    let head = head(&columns, room).map(Rc::new);
    let mut pieces = Vec::new();
    for row in &table.rows {
        let Some(setting) = lines_setting(row, &columns, below, room, found) else { continue };
        let name = row.cells.iter().find(|(_, cell)| cell.role == Role::Name).map(|(_, cell)| cell.text.words());
        pieces.push(Piece {
            setting,
            span: row.span,
            words: name.unwrap_or_default(),
            head: head.clone(),
            label: row.label.clone(),
            is_row: true,
            ..Piece::default()
        });
    }
    pieces
}

type Below = [(Vec<String>, Vec<String>)];

fn lines_setting(
    row: &Row,
    columns: &FirstLine<'_>,
    below: &Below,
    room: &Room<'_>,
    found: &mut Findings,
) -> Option<Setting> {
    let mut setting = first_line(row, columns, room, found)?;
    for (left, right) in below {
        let is_dialled = right.iter().any(|key| row.cell(key).is_some_and(|cell| cell.role.is_dialled()));
        if is_dialled {
            keyed_line(row, columns.table, right, room, &mut setting);
            continue;
        }
        further_line(row, &Further { left, right, indent: columns.indent }, room, &mut setting, found)?;
    }
    setting.height += room.layout.air(AIR);
    Some(setting)
}

/// What is set: name and numbers on one line; a name that does not fit beside its numbers stands on a line above them.
fn first_line(row: &Row, columns: &FirstLine<'_>, room: &Room<'_>, found: &mut Findings) -> Option<Setting> {
    let keys = columns.left.iter().chain(columns.right);
    let tallest = keys.filter_map(|key| row.cell(key)).map(|cell| room.layout.style(cell.role).capital());
    let tallest = tallest.fold(Length::ZERO, Length::max);
    let baseline = room.layout.air(AIR) + tallest;
    let numbers: Vec<(&Cell, Length)> = columns
        .right
        .iter()
        .zip(&columns.numbers)
        .filter_map(|(key, column)| row.cell(key).map(|cell| (cell, number_at(cell, column, room))))
        .collect();
    let free = numbers.iter().map(|(_, x)| *x).fold(room.width, Length::min);
    let name = columns.left.iter().zip(&columns.starts).next_back();
    let name_ends = name.and_then(|(key, start)| Some(*start + width(row.cell(key)?, room)));
    let is_above =
        free < room.width && name_ends.is_some_and(|end| end + room.layout.air(GAP) / 2 > free && end <= room.width);
    let (free, below) = if is_above {
        (room.width + room.layout.air(GAP) / 2, baseline + tallest + room.layout.air(Length::hundredths_mm(110)))
    } else {
        (free, baseline)
    };
    let mut setting = Setting { marks: Vec::new(), height: below + room.layout.air(Length::hundredths_mm(70)) };
    for (index, (cell, x)) in numbers.into_iter().enumerate() {
        let from = setting.marks.len();
        say(cell, Point { x, y: below }, room, &mut setting);
        setting.mark_cell(from, columns.left.len() + index);
    }
    for (index, (key, start)) in columns.left.iter().zip(&columns.starts).enumerate() {
        let Some(cell) = row.cell(key) else { continue };
        let is_last = columns.left.last() == Some(key);
        let end = *start + width(cell, room);
        if is_last && end + room.layout.air(GAP) / 2 > free {
            room.too_wide(&cell.text, free - *start, found);
            return None;
        }
        let from = setting.marks.len();
        say(cell, Point { x: *start, y: baseline }, room, &mut setting);
        setting.mark_cell(from, index);
    }
    // In reading order: what stands left was set last.
    setting.marks.sort_by_key(reading_order);
    Some(setting)
}

fn reading_order(mark: &Mark) -> (Length, Length) {
    match mark {
        Mark::Glyphs(glyphs) => (glyphs.at.y, glyphs.at.x),
        _ => (Length::ZERO, Length::ZERO),
    }
}

fn number_at(cell: &Cell, column: &NumberColumn, room: &Room<'_>) -> Length {
    let style = room.layout.style(cell.role);
    let words = cell.text.words();
    if let Some((whole, _)) = column.parted(&words) {
        return column.right - column.part - room.pen.width(whole, style);
    }
    // Words that are wider than their column begin at its left edge and reach into those after it.
    column.right - room.pen.width(&words, style).min(column.width())
}

fn say(cell: &Cell, at: Point, room: &Room<'_>, setting: &mut Setting) {
    let style = room.layout.style(cell.role);
    setting.marks.extend(room.pen.line(&cell.text, style, at).into_iter().map(Mark::Glyphs));
}

/// The number of the next cell of a row that is being set.
fn next_cell(setting: &Setting) -> usize {
    let column = |mark: &Mark| match mark {
        Mark::Glyphs(glyphs) => glyphs.place.cell.map(|cell| usize::from(cell.column) + 1),
        _ => None,
    };
    setting.marks.iter().filter_map(column).max().unwrap_or(0)
}

/// A number on a line of its own, after its column's heading: it is keyed, so it stands as large as the others.
fn keyed_line(row: &Row, table: &Table, keys: &[String], room: &Room<'_>, setting: &mut Setting) {
    for key in keys {
        let Some(cell) = row.cell(key) else { continue };
        let heading = heading(table, key);
        let style = room.layout.style(cell.role);
        let small = room.layout.style(Role::Word);
        let baseline = setting.height + style.capital() + room.layout.air(Length::hundredths_mm(40));
        let x = room.width - width(cell, room);
        let before = room.pen.width(heading, small) + room.layout.air(Length::hundredths_mm(120));
        let words = room.pen.write(heading, small, cell.text.span, Point { x: x - before, y: baseline });
        let (from, number) = (setting.marks.len(), next_cell(setting));
        setting.marks.push(Mark::Glyphs(words));
        say(cell, Point { x, y: baseline }, room, setting);
        setting.mark_cell(from, number);
        setting.height = baseline + room.layout.air(Length::hundredths_mm(70));
    }
}

/// A line below the first: what stands left and right of it, and where it begins.
struct Further<'a> {
    left: &'a [String],
    right: &'a [String],
    indent: Length,
}

/// What stands left and right on one line where both fit; else the right part takes its own lines.
fn further_line(
    row: &Row,
    line: &Further<'_>,
    room: &Room<'_>,
    setting: &mut Setting,
    found: &mut Findings,
) -> Option<()> {
    let style = room.layout.style(Role::Body);
    let indent = line.indent;
    let width = room.width - indent;
    let (left, right) = (joined(row, line.left), joined(row, line.right));
    let mut lines = |text: &Option<Text>| -> Option<Vec<TextLine>> {
        let Some(text) = text else { return Some(Vec::new()) };
        let lines = broken(room.pen, text, style, width);
        if lines.is_none() {
            room.too_wide(text, width, found);
        }
        lines
    };
    let (left, right) = (lines(&left)?, lines(&right)?);
    let (mut left, mut right) = (left.into_iter(), right.into_iter().peekable());
    let last = left.next_back();
    let (from, number) = (setting.marks.len(), next_cell(setting));
    for line in left {
        put(&line, indent, room, setting, true);
    }
    if let Some(line) = last {
        let is_beside = right.peek().is_some_and(|other| line.width + room.layout.air(GAP) + other.width <= width)
            && right.len() == 1;
        put(&line, indent, room, setting, !is_beside);
    }
    setting.mark_cell(from, number);
    let from = setting.marks.len();
    for line in right {
        put(&line, room.width - line.width, room, setting, true);
    }
    setting.mark_cell(from, number + 1);
    Some(())
}

fn put(line: &TextLine, x: Length, room: &Room<'_>, setting: &mut Setting, ends: bool) {
    let size = line.size();
    let baseline = setting.height + size.fraction(689, 1000) + (leading(size) - size.fraction(9, 10)) / 2;
    setting.marks.extend(line.place(room.pen, Point { x, y: baseline }).into_iter().map(Mark::Glyphs));
    if ends {
        setting.height += leading(size);
    }
}

/// The cells of a line as one text, strong where it warns.
fn joined(row: &Row, keys: &[String]) -> Option<Text> {
    let cells: Vec<&Cell> = keys.iter().filter_map(|key| row.cell(key)).filter(|cell| !cell.text.is_empty()).collect();
    let first = cells.first()?;
    let mut text = Text { runs: Vec::new(), span: first.text.span };
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            text = text.then(BETWEEN);
        }
        text.runs.extend(cell.text.runs.iter().cloned());
        // The longer text is the one to shorten.
        if cell.text.words().len() > first.text.words().len() {
            text.span = cell.text.span;
        }
    }
    Some(text)
}
