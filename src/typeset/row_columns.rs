//! The columns of rows of several lines: measured over all rows, so that they stand under each other.

use super::piece::Room;
use super::setting::Setting;
use crate::compose::block::{Cell, Column, Role, Row, Table};
use crate::ground::Length;
use crate::sheet::{HAIRLINE, Mark, Point, across};

/// Between two columns, and between what stands left and right on a line.
pub(super) const GAP: Length = Length::hundredths_mm(180);
/// Over and under the text of a row.
pub(super) const AIR: Length = Length::hundredths_mm(95);

/// The first line's columns, from left to right.
pub(super) struct FirstLine<'a> {
    /// The table.
    pub table: &'a Table,
    /// Keys of the columns from the left edge.
    pub left: &'a [String],
    /// Keys of the columns up to the right edge.
    pub right: &'a [String],
    /// Left edge of each column of `left`.
    pub starts: Vec<Length>,
    /// Each column of `right`.
    pub numbers: Vec<NumberColumn>,
    /// Where further lines begin: under the last column of `left`.
    pub indent: Length,
}

/// A column of numbers that stand point under point.
#[derive(Clone, Copy, Default)]
pub(super) struct NumberColumn {
    /// Right edge.
    pub right: Length,
    /// From how many places on numbers stand point under point; none where they do not.
    pub pointed: Option<usize>,
    /// Widest part up to the point.
    pub whole: Length,
    /// Widest part from the point on.
    pub part: Length,
    /// Widest word.
    pub word: Length,
}

impl NumberColumn {
    /// How wide it is.
    pub fn width(&self) -> Length {
        (self.whole + self.part).max(self.word)
    }

    /// A number that stands point under point, up to there and from there on.
    pub fn parted<'a>(&self, number: &'a str) -> Option<(&'a str, &'a str)> {
        let places = self.pointed?;
        let (whole, part) = number.split_at(number.find('.')?);
        (part.len() > places).then_some((whole, part))
    }
}

/// Measures the columns of a table.
pub(super) fn first_line<'a>(
    table: &'a Table,
    left: &'a [String],
    right: &'a [String],
    room: &Room<'_>,
) -> FirstLine<'a> {
    let cells = |key: &'a str| table.rows.iter().filter_map(move |row| row.cell(key));
    let mut starts = Vec::new();
    let mut x = Length::ZERO;
    for key in left {
        starts.push(x);
        let own = room.pen.width(heading(table, key), room.layout.style(Role::Heading));
        let widest = cells(key).map(|cell| width(cell, room)).fold(own, Length::max);
        x += widest + room.layout.air(GAP);
    }
    let mut numbers = Vec::new();
    let mut edge = room.width;
    for (index, key) in right.iter().enumerate().rev() {
        let pointed = declared(table, key).and_then(|column| column.align.places());
        let mut column = NumberColumn { right: edge, pointed, ..NumberColumn::default() };
        let is_used = cells(key).next().is_some();
        if is_used {
            column.word = room.pen.width(heading(table, key), room.layout.style(Role::Heading));
        }
        let used = table.rows.iter().filter_map(|row| Some((row, row.cell(key)?)));
        for (row, cell) in used {
            let style = room.layout.style(cell.role);
            let words = cell.text.words();
            if let Some((whole, part)) = column.parted(&words) {
                column.whole = column.whole.max(room.pen.width(whole, style));
                column.part = column.part.max(room.pen.width(part, style));
            } else {
                let beyond = right.iter().skip(index + 1).zip(numbers.iter().rev());
                let free = if cell.role.is_dialled() { Length::ZERO } else { free(row, beyond, edge) };
                column.word = column.word.max(room.pen.width(&words, style) - free);
            }
        }
        if is_used {
            edge = edge - column.width() - room.layout.air(GAP);
        }
        numbers.push(column);
    }
    numbers.reverse();
    let indent = starts.last().copied().unwrap_or(Length::ZERO);
    FirstLine { table, left, right, starts, numbers, indent }
}

/// How far words reach beyond the right edge of their column: over those after it that the row leaves empty.
fn free<'a>(row: &Row, beyond: impl Iterator<Item = (&'a String, &'a NumberColumn)>, edge: Length) -> Length {
    let empty = beyond.take_while(|(key, _)| row.cell(key).is_none());
    empty.last().map_or(Length::ZERO, |(_, column)| column.right - edge)
}

/// How wide a cell is.
pub(super) fn width(cell: &Cell, room: &Room<'_>) -> Length {
    room.pen.width(&cell.text.words(), room.layout.style(cell.role))
}

fn declared<'a>(table: &'a Table, key: &str) -> Option<&'a Column> {
    table.columns.iter().find(|column| column.key == key)
}

/// What is printed over a column.
pub(super) fn heading(table: &Table, key: &str) -> &'static str {
    declared(table, key).map_or("", |column| column.heading)
}

/// The headings, each over its column, those of numbers to the right. A column that no row uses has none.
pub(super) fn head(columns: &FirstLine<'_>, room: &Room<'_>) -> Option<Setting> {
    let table = columns.table;
    let style = room.layout.style(Role::Heading);
    let is_used = |key: &str| table.rows.iter().any(|row| row.cell(key).is_some());
    let heading = |key: &String| if is_used(key) { heading(table, key) } else { "" };
    let baseline = room.layout.air(AIR) + style.capital();
    let mut setting =
        Setting { marks: Vec::new(), height: baseline + style.tail() + room.layout.air(Length::hundredths_mm(30)) };
    let mut say = |words: &str, x: Length| {
        let glyphs = room.pen.write(words, style, crate::ground::Span::NOWHERE, Point { x, y: baseline });
        setting.marks.push(Mark::Glyphs(glyphs));
    };
    let mut any = false;
    for (key, start) in columns.left.iter().zip(&columns.starts).filter(|(key, _)| !heading(key).is_empty()) {
        say(heading(key), *start);
        any = true;
    }
    for (key, column) in columns.right.iter().zip(&columns.numbers).filter(|(key, _)| !heading(key).is_empty()) {
        say(heading(key), column.right - room.pen.width(heading(key), style));
        any = true;
    }
    setting.marks.push(across(Length::ZERO, room.width, setting.height, HAIRLINE));
    any.then_some(setting)
}
