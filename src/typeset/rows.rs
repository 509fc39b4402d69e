//! Rows of several lines: first what is set, in columns that stand under each other; then what is said and what to do.
//!
//! Rule of thumb: digits first. Numbers stand point under point; words among them are smaller, on the same baseline.

use super::layout::RowSet;
use super::pen::Style;
use super::piece::{Piece, Room};
use super::row_arrow::{arrow, bar};
use super::row_columns::{NEAR, Names, RowColumns, row_columns, width};
use super::row_head::head;
use super::row_lines::{Below, Item, RowLine, What, above};
use super::setting::Setting;
use super::written::written;
use crate::compose::block::{Cell, Role, Row, Table, Text};
use crate::ground::{Findings, Length};
use crate::sheet::{Mark, Point};
use std::rc::Rc;

/// Where rows stand closer: so much less over their figures, and between their lines.
const LESS_OVER: Length = Length::hundredths_mm(15);
const LESS: Length = Length::hundredths_mm(8);
/// Over the figures of a row.
const OVER: Length = Length::hundredths_mm(72);
/// From a line of names or figures to the capitals of the words below it, from words to words, and before a figure.
const BELOW_FIRST: Length = Length::hundredths_mm(124);
const BELOW_WORDS: Length = Length::hundredths_mm(77);
const BEFORE_FIGURE: Length = Length::hundredths_mm(55);
/// From the tails of the last line to the rule.
const UNDER: Length = Length::hundredths_mm(52);

/// The pieces of a table, one a row.
pub(super) fn row_pieces(table: &Table, set: &RowSet, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let columns = row_columns(table, set, room);
    let head = head(&columns, &table.said, room, found).map(Rc::new);
    // What is said of a column that no further row uses is left out on panels that begin there.
    let short = head_without(&columns, room, found);
    let last = last_use(table);
    let mut pieces = Vec::new();
    for (place, row) in table.rows.iter().enumerate() {
        let is_short = short.is_some() && last.is_none_or(|last| place > last);
        let (head, also) = if is_short { (&short, &head) } else { (&head, &short) };
        let Some(mut setting) = row_setting(row, &columns, room, found) else { continue };
        if table.own.contains(&place) {
            setting.marks.push(bar(setting.height));
        }
        let name = row.cells.iter().find(|(_, cell)| cell.role == Role::Name).map(|(_, cell)| cell.text.words());
        pieces.push(Piece {
            setting,
            span: row.span,
            words: name.unwrap_or_default(),
            head: head.clone(),
            also: also.clone(),
            label: row.label.clone(),
            is_row: true,
            ..Piece::default()
        });
    }
    pieces
}

/// The last row that leads on.
fn last_use(table: &Table) -> Option<usize> {
    table.rows.iter().rposition(|row| row.cells.iter().any(|(_, cell)| cell.role == Role::Next))
}

/// The head for panels on which no row leads on; none where it is the same.
fn head_without(columns: &RowColumns<'_>, room: &Room<'_>, found: &mut Findings) -> Option<Rc<Setting>> {
    let table = columns.table;
    let said: Vec<Text> = table.said.iter().filter(|text| !table.said_of_next.contains(text)).cloned().collect();
    (said.len() < table.said.len()).then(|| head(columns, &said, room, found).map(Rc::new)).flatten()
}

fn row_setting(row: &Row, columns: &RowColumns<'_>, room: &Room<'_>, found: &mut Findings) -> Option<Setting> {
    let (mut lines, done) = first_lines(row, columns, room, found)?;
    let mut below = Below { row, columns, room, done, carried: None };
    for line in &columns.set.below {
        below.add(line, &mut lines, found)?;
    }
    below.finish(&mut lines, found)?;
    Some(placed(lines, room))
}

/// Names and figures, on one line or two, and what stands above the figures already.
fn first_lines(
    row: &Row,
    columns: &RowColumns<'_>,
    room: &Room<'_>,
    found: &mut Findings,
) -> Option<(Vec<RowLine>, Vec<String>)> {
    let names = names(row, columns, room);
    let figures = figures(row, columns, room);
    let ends = names.last().map_or(Length::ZERO, Item::end);
    let begin = figures.iter().map(|item| item.x).fold(room.width, Length::min);
    let (name, end) = (row.cells.iter().find(|(_, cell)| cell.role == Role::Name), figures.last().map(Item::end));
    if let Some((_, cell)) =
        name.filter(|_| ends > room.width || end.is_some_and(|end| end > room.width) || begin < Length::ZERO)
    {
        room.too_wide(&cell.text, room.width - columns.indent, found);
        return None;
    }
    // A figure over another is no figure.
    if let Some(Item { what: What::Cell { cell, .. }, .. }) =
        figures.iter().zip(figures.iter().skip(1)).find(|(one, next)| one.end() > next.x).map(|(_, next)| next)
    {
        room.too_wide(&cell.text, room.width, found);
        return None;
    }
    let is_apart = match columns.names {
        Names::Beside => false,
        Names::Above => true,
        Names::Each => !figures.is_empty() && ends + room.layout.air(NEAR) > begin,
    };
    if !is_apart {
        return Some((vec![RowLine { left: names, right: figures, is_first: true }], Vec::new()));
    }
    let mut over = RowLine { left: names, right: Vec::new(), is_first: true };
    let figures = RowLine { left: Vec::new(), right: figures, is_first: true };
    let done = if columns.names == Names::Above { above(row, columns, &mut over, room) } else { Vec::new() };
    Some((vec![over, figures], done))
}

/// What stands before the figures: the number at its right edge, the name in the size of all names.
fn names(row: &Row, columns: &RowColumns<'_>, room: &Room<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for (place, key) in columns.set.left.iter().enumerate() {
        let Some(cell) = row.cell(key) else { continue };
        let is_name = place + 1 == columns.set.left.len();
        let style = if cell.role == Role::Name { columns.name } else { room.layout.style(cell.role) };
        let width = room.pen.width(&cell.text.words(), style);
        let x = if is_name { columns.indent } else { columns.numbered - width };
        items.push(Item { x, width, what: What::Cell { cell: cell.clone(), style, label: None } });
    }
    items
}

fn figures(row: &Row, columns: &RowColumns<'_>, room: &Room<'_>) -> Vec<Item> {
    let item = |(key, column): (&String, &super::row_columns::FigureColumn)| {
        let cell = row.cell(key)?;
        let style = room.layout.style(cell.role);
        let what = What::Cell { cell: cell.clone(), style, label: None };
        Some(Item { x: column.at(cell, room), width: width(cell, room), what })
    };
    columns.set.right.iter().zip(&columns.figures).filter_map(item).collect()
}

/// Lines with their baselines, and the height of the row.
fn placed(lines: Vec<RowLine>, room: &Room<'_>) -> Setting {
    let mut setting = Setting::default();
    let mut baseline = Length::ZERO;
    let mut cell = 0;
    let mut before: Option<&RowLine> = None;
    for line in &lines {
        let tallest = line.items().map(|item| item.tallest(room)).fold(Length::ZERO, Length::max);
        let (air, less) = match before {
            None => (OVER, LESS_OVER),
            Some(_) if line.items().any(Item::is_dialled) && !line.is_first => (BEFORE_FIGURE, LESS),
            Some(before) if before.is_first && !line.is_first => (BELOW_FIRST, LESS),
            Some(_) => (BELOW_WORDS, LESS),
        };
        let less = if room.layout.has_close_rows { less } else { Length::ZERO };
        let is_written = line.items().any(Item::is_to_write);
        let step = tallest + room.layout.air(air - less);
        baseline += if is_written { step.max(written(room)) } else { step };
        let mut items: Vec<&Item> = line.items().collect();
        items.sort_by_key(|item| item.x);
        for item in items {
            let from = setting.marks.len();
            drawn(item, baseline, room, &mut setting);
            setting.mark_cell(from, cell);
            cell += 1;
        }
        before = Some(line);
    }
    setting.height = baseline + room.layout.style(Role::Body).tail() + room.layout.air(UNDER);
    setting
}

fn drawn(item: &Item, baseline: Length, room: &Room<'_>, setting: &mut Setting) {
    let at = Point { x: item.x, y: baseline };
    let say = |cell: &Cell, style: Style, at: Point| room.pen.line(&cell.text, style, at).into_iter().map(Mark::Glyphs);
    match &item.what {
        What::Words(line) => setting.marks.extend(line.place(room.pen, at).into_iter().map(Mark::Glyphs)),
        What::Cell { cell, style, label } => {
            if let Some(label) = label {
                let words = room.pen.write(label, room.layout.style(Role::Body), cell.text.span, at);
                setting.marks.push(Mark::Glyphs(words));
            }
            let x = item.end() - room.pen.width(&cell.text.words(), *style);
            setting.marks.extend(say(cell, *style, Point { x, ..at }));
        }
        What::Onward(cell) => {
            setting.marks.extend(arrow(room, at));
            let x = at.x + super::row_arrow::room(room);
            setting.marks.extend(say(cell, room.layout.style(cell.role), Point { x, ..at }));
        }
    }
}
