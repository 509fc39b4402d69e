//! A table as a grid: columns side by side, each cell broken into lines; numbers are never broken.

use super::lines::{broken, leading, pieces};
use super::pen::Pen;
use super::piece::{Piece, Room};
use super::row_arrow::bar;
use super::rules::TEXT_DOES_NOT_FIT;
use super::setting::Setting;
use super::side_by_side::{each_row, is_long};
use super::written::{is_to_write, lined, written};
use crate::compose::block::{Cell, Column, Role, Row, Table, Text};
use crate::ground::{Finding, Findings, Length, Span, on_all_threads};
use crate::sheet::{HAIRLINE, Mark, Point, across};
use std::rc::Rc;

/// Between two columns.
const GAP: Length = Length::hundredths_mm(300);
/// The same on a panel.
const PANEL_GAP: Length = Length::hundredths_mm(160);

/// The same on a page where all stands closer: what is heard and what is sent are told apart at a glance.
const CLOSE_GAP: Length = Length::hundredths_mm(250);

fn between(room: &Room<'_>) -> Length {
    if room.layout.format.has_panels() {
        return room.layout.air(PANEL_GAP);
    }
    room.layout.air(GAP).max(CLOSE_GAP)
}

/// Whether a table's columns have room beside each other.
pub(super) fn fits(table: &Table, keys: &[String], room: &Room<'_>) -> bool {
    columns(table, keys, &[], room, &mut Findings::default()).is_some()
}

/// Over and under the text of a row.
const AIR: Length = Length::hundredths_mm(90);

/// The width from which on a row's number stands at both ends.
const WIDE: Length = Length::mm(220);

/// A column with its place.
struct GridColumn<'a> {
    column: &'a Column,
    left: Length,
    width: Length,
    /// Widest part of a number up to the point, where all stand point under point; zero for words.
    whole: Length,
    /// Whether it is the row's number once more, at the right edge.
    is_again: bool,
}

/// The pieces of a table, one a row.
pub(super) fn grid_pieces(
    table: &Table,
    keys: &[String],
    first: &[String],
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let Some(columns) = columns(table, keys, first, room, found) else { return Vec::new() };
    let head = Rc::new(head(&columns, room));
    let mut pieces = Vec::new();
    let settings = each_row(&table.rows, room, found, |row, found| row_setting(row, &columns, room, found));
    for (place, (row, setting)) in table.rows.iter().zip(settings).enumerate() {
        let Some(mut setting) = setting else { continue };
        if table.own.contains(&place) {
            setting.marks.push(bar(setting.height));
        }
        pieces.push(Piece {
            setting,
            span: row.span,
            words: row.cells.first().map(|(_, cell)| cell.text.words()).unwrap_or_default(),
            head: Some(Rc::clone(&head)),
            label: row.label.clone(),
            is_row: true,
            ..Piece::default()
        });
    }
    pieces
}

/// Columns in their order; those named first get what they want before the others. None, with a finding, where their longest
/// words do not fit beside each other.
fn columns<'a>(
    table: &'a Table,
    keys: &[String],
    first: &[String],
    room: &Room<'_>,
    found: &mut Findings,
) -> Option<Vec<GridColumn<'a>>> {
    let used = keys.iter().filter_map(|key| table.columns.iter().find(|column| column.key == key));
    let used: Vec<&Column> = used.collect();
    let is_first = |column: &Column| first.iter().any(|key| key == column.key);
    let measure = |column: &&Column| Measure { is_first: is_first(column), ..measured(table, column, room) };
    let measures: Vec<Measure> = match is_long(table.rows.len(), room) {
        true => on_all_threads(&used, 1, measure),
        false => used.iter().map(measure).collect(),
    };
    // Across a wide page the eye loses its row: the number stands at both ends.
    let again =
        used.first().zip(measures.first()).filter(|(column, _)| column.role == Role::Number && room.width >= WIDE);
    let again = again.map(|(column, measure)| (*column, measure.natural));
    let taken = again.map_or(Length::ZERO, |(_, width)| width + between(room));
    let gaps = between(room) * i64::try_from(used.len().saturating_sub(1)).unwrap_or(0);
    let least = measures.iter().map(|measure| measure.least).sum::<Length>() + gaps + taken;
    if least > room.width {
        found.push(too_many(table, &used, least, room));
        return None;
    }
    let mut widths = shared(&measures, room.width - gaps - taken);
    let spare = room.width - gaps - taken - widths.iter().copied().sum::<Length>();
    let spare = widened(&used, table, &mut widths, spare.max(Length::ZERO));
    let parts = i64::try_from(used.len().saturating_sub(1)).unwrap_or(1).max(1);
    // On a panel what is left over parts the columns further.
    let more = if room.layout.format.has_panels() { spare / parts } else { Length::ZERO };
    let mut left = Length::ZERO;
    let mut columns = Vec::new();
    for ((column, measure), width) in used.into_iter().zip(measures).zip(widths) {
        columns.push(GridColumn { column, left, width, whole: measure.whole, is_again: false });
        left += width + between(room) + more;
    }
    let again = again.map(|(column, width)| GridColumn {
        column,
        left: room.width - width,
        width,
        whole: Length::ZERO,
        is_again: true,
    });
    columns.extend(again);
    Some(columns)
}

/// A table whose columns are wider than the page, though every text is broken where it can be; with the widest of what cannot.
fn too_many(table: &Table, used: &[&Column], least: Length, room: &Room<'_>) -> Finding {
    let whole = |length: Length| length.as_grains() / Length::mm(1).as_grains();
    let (least, there) = (whole(least) + 1, whole(room.width));
    let what =
        format!("the columns of the table `{}` take {least} mm side by side, and there are {there} mm", table.key);
    let cells = table.rows.iter().flat_map(|row| used.iter().filter_map(|column| row.cell(column.key)));
    let widest = cells.map(|cell| (widest_word(room.pen, cell, room), cell)).max_by_key(|(width, _)| *width);
    let finding = Finding::new(&TEXT_DOES_NOT_FIT, room.asked, what).label("asks for this layout");
    match widest.filter(|(width, cell)| *width > room.width / 3 && cell.text.span != Span::NOWHERE) {
        Some((width, cell)) => finding
            .and(cell.text.span, format!("one word of this takes {} mm of them", whole(width) + 1))
            .help("write it shorter or in parts, or take a larger layout"),
        None => finding.help("take a larger layout, or smaller text in your own"),
    }
}

/// What a column would like.
struct Measure {
    /// Everything on one line.
    natural: Length,
    /// The widest word, or the widest number.
    least: Length,
    whole: Length,
    /// Whether it gets that before others.
    is_first: bool,
}

fn measured(table: &Table, column: &Column, room: &Room<'_>) -> Measure {
    let head_style = room.layout.style(Role::Heading);
    let head = room.pen.width(column.heading, head_style);
    let mut measure = Measure { natural: head, least: head, whole: Length::ZERO, is_first: false };
    let (mut whole, mut part) = (Length::ZERO, Length::ZERO);
    for cell in table.rows.iter().filter_map(|row| row.cell(column.key)) {
        let words = cell.text.words();
        let style = room.layout.style(cell.role);
        // Strong words are wider than others.
        let natural = room.pen.line_width(&cell.text, style);
        measure.natural = measure.natural.max(natural);
        // No word is wider than all of them, but where one is measured as if it were strong.
        if natural > measure.least || cell.text.runs.iter().any(|run| run.is_strong) {
            let own = if column.is_unbroken { natural } else { widest_word(room.pen, cell, room) };
            measure.least = measure.least.max(own);
        }
        if let Some((before, after)) = parted(column, cell, &words) {
            whole = whole.max(room.pen.width(before, style));
            part = part.max(room.pen.width(after, style));
        }
    }
    measure.whole = whole;
    measure.least = measure.least.max(whole + part);
    // A strong word is wider than it was measured.
    measure.natural = measure.natural.max(measure.least);
    measure
}

/// A number up to its point, and from there on; words among numbers, and codes without a point, stand left.
fn parted<'a>(column: &Column, cell: &Cell, words: &'a str) -> Option<(&'a str, &'a str)> {
    let is_number = column.align.places().is_some() && cell.role == column.role;
    let point = words.find('.').filter(|_| is_number)?;
    Some(words.split_at(point))
}

fn widest_word(pen: &Pen, cell: &Cell, room: &Room<'_>) -> Length {
    let style = room.layout.style(cell.role);
    let bold = super::pen::Style { face: crate::sheet::Face::Bold, ..style };
    let is_strong = cell.text.runs.iter().any(|run| run.is_strong);
    let words = cell.text.words();
    pieces(&words)
        .iter()
        .map(|word| pen.width(word, if is_strong { bold } else { style }))
        .fold(Length::ZERO, Length::max)
}

/// Widths by need: all get their least. What is left goes first to those that the layout puts first, then to the columns that want
/// little more, so that names stay on one line and long texts break instead; those that want more than an even share divide the rest.
fn shared(measures: &[Measure], width: Length) -> Vec<Length> {
    let mut widths: Vec<Length> = measures.iter().map(|measure| measure.least).collect();
    let mut spare = width - widths.iter().copied().sum();
    let mut by_want: Vec<(&Measure, &mut Length)> = measures.iter().zip(&mut widths).collect();
    by_want.sort_by_key(|(measure, _)| (!measure.is_first, measure.natural - measure.least));
    let mut left = i64::try_from(by_want.len()).unwrap_or(1);
    for (measure, width) in by_want {
        let share = (measure.natural - measure.least).min(if measure.is_first { spare } else { spare / left });
        *width += share;
        spare -= share;
        left -= 1;
    }
    widths
}

/// What no text wants goes to the columns in which somebody writes, each after its own width; what is left then.
fn widened(used: &[&Column], table: &Table, widths: &mut [Length], spare: Length) -> Length {
    let is_written = |column: &&Column| {
        let mut cells = table.rows.iter().filter_map(|row| row.cell(column.key)).peekable();
        cells.peek().is_some() && cells.all(|cell| is_to_write(&cell.text))
    };
    let written: Vec<bool> = used.iter().map(is_written).collect();
    let all: i64 = written.iter().zip(&*widths).filter(|(is, _)| **is).map(|(_, width)| width.as_grains()).sum();
    if all == 0 {
        return spare;
    }
    for (width, _) in widths.iter_mut().zip(&written).filter(|(_, is)| **is) {
        *width += spare * width.as_grains() / all;
    }
    Length::ZERO
}

fn head(columns: &[GridColumn<'_>], room: &Room<'_>) -> Setting {
    let style = room.layout.style(Role::Heading);
    let baseline = room.layout.air(AIR) + style.capital();
    let mut setting =
        Setting { marks: Vec::new(), height: baseline + style.tail() + room.layout.air(Length::hundredths_mm(40)) };
    let headed = |column: &&GridColumn<'_>| !column.is_again && !column.column.heading.is_empty();
    if !columns.iter().any(|column| headed(&column)) {
        setting.height = room.layout.air(AIR);
    }
    for column in columns.iter().filter(headed) {
        let at = Point { x: column.left, y: baseline };
        setting.marks.push(Mark::Glyphs(room.pen.write(column.column.heading, style, Span::NOWHERE, at)));
    }
    setting.marks.push(across(Length::ZERO, room.width, setting.height, HAIRLINE));
    setting
}

fn row_setting(row: &Row, columns: &[GridColumn<'_>], room: &Room<'_>, found: &mut Findings) -> Option<Setting> {
    let tallest = columns
        .iter()
        .filter_map(|column| row.cell(column.column.key))
        .map(|cell| room.layout.style(cell.role).capital());
    let baseline = room.layout.air(AIR) + tallest.fold(Length::ZERO, Length::max);
    let is_written =
        columns.iter().filter_map(|column| row.cell(column.column.key)).any(|cell| is_to_write(&cell.text));
    let baseline = if is_written { baseline.max(written(room)) } else { baseline };
    let mut setting = Setting { marks: Vec::new(), height: baseline };
    let mut bottom = baseline;
    for (index, column) in columns.iter().enumerate() {
        let Some(cell) = row.cell(column.column.key) else { continue };
        let from = setting.marks.len();
        let cell = &*lined(cell, column.width, room);
        let style = room.layout.style(cell.role);
        let words = cell.text.words();
        let indent =
            parted(column.column, cell, &words).map(|(before, _)| column.whole - room.pen.width(before, style));
        let to_the_right = if column.is_again { column.width - room.pen.width(&words, style) } else { Length::ZERO };
        let x = column.left + indent.unwrap_or(to_the_right);
        let Some(lines) = cell_lines(cell, column, room) else {
            room.too_wide(&cell.text, column.width, found);
            return None;
        };
        let mut y = baseline;
        for line in &lines {
            setting.marks.extend(line.place(room.pen, Point { x, y }).into_iter().map(Mark::Glyphs));
            bottom = bottom.max(y);
            y += leading(style.size);
        }
        setting.mark_cell(from, index);
    }
    setting.height = bottom + room.layout.style(Role::Body).tail() + room.layout.air(AIR);
    Some(setting)
}

fn cell_lines(
    cell: &Cell,
    GridColumn { column, width, .. }: &GridColumn<'_>,
    room: &Room<'_>,
) -> Option<Vec<super::lines::TextLine>> {
    let style = room.layout.style(cell.role);
    if column.is_unbroken {
        // On one line, spaces and all: measured without breaking.
        let kept = Text { runs: cell.text.runs.clone(), span: cell.text.span };
        return broken(room.pen, &kept, style, Length::mm(10_000))
            .filter(|lines| lines.iter().all(|line| line.width <= *width));
    }
    broken(room.pen, &cell.text, style, *width)
}
