//! The lines of one row: what stands left and right on each, before it has a height.
//!
//! Rule of thumb: two lines, and a third for an exception. What is short moves up to the end of a line that has room there.

use super::layout::Line;
use super::lines::{TextLine, broken};
use super::pen::Style;
use super::piece::Room;
use super::row_columns::{FigureColumn, GAP, Names, RowColumns, declared, heading, width};
use super::written::is_to_write;
use crate::compose::block::{Align, Cell, Role, Row, Text};
use crate::ground::{Findings, Length};

/// Between what is said and what is said behind it.
const AFTER: Length = Length::hundredths_mm(98);
/// Before an arrow, and before what stands before it.
const BEFORE_ARROW: Length = Length::hundredths_mm(70);
/// Before what moved up to the end of a line.
const BEFORE_MOVED: Length = Length::hundredths_mm(160);
/// Between a label and its figure.
const AFTER_LABEL: Length = Length::hundredths_mm(150);
/// Between the words of one line.
const BETWEEN: &str = ", ";

/// Something on a line.
#[derive(Clone)]
pub(super) struct Item {
    /// Its left edge.
    pub x: Length,
    pub width: Length,
    pub what: What,
}

/// What it is.
#[derive(Clone)]
pub(super) enum What {
    /// A line of words.
    Words(TextLine),
    /// A cell as it is, perhaps after its column's heading, perhaps in a size of its own.
    Cell { cell: Cell, style: Style, label: Option<&'static str> },
    /// What stands behind an arrow.
    Onward(Cell),
}

impl Item {
    pub fn end(&self) -> Length {
        self.x + self.width
    }

    /// The tallest capital on it.
    pub fn tallest(&self, room: &Room<'_>) -> Length {
        match &self.what {
            What::Words(line) => line.size().fraction(689, 1000),
            What::Cell { style, .. } => style.capital(),
            What::Onward(cell) => room.layout.style(cell.role).capital(),
        }
    }

    /// Whether somebody writes there.
    pub fn is_to_write(&self) -> bool {
        matches!(&self.what, What::Cell { cell, .. } if is_to_write(&cell.text))
    }

    pub fn is_dialled(&self) -> bool {
        matches!(&self.what, What::Cell { cell, .. } if cell.role.is_dialled())
    }

    fn moved(self, x: Length) -> Self {
        Self { x, ..self }
    }
}

/// A line of a row.
#[derive(Clone, Default)]
pub(super) struct RowLine {
    pub left: Vec<Item>,
    pub right: Vec<Item>,
    /// Whether names or figures stand on it: the next one keeps further away.
    pub is_first: bool,
}

impl RowLine {
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.left.iter().chain(&self.right)
    }

    fn end(&self) -> Length {
        self.items().map(Item::end).fold(Length::ZERO, Length::max)
    }
}

/// The lines below the first of a row.
pub(super) struct Below<'a, 'r> {
    pub row: &'a Row,
    pub columns: &'a RowColumns<'a>,
    pub room: &'a Room<'r>,
    /// What stands above the figures already.
    pub done: Vec<String>,
    /// A warning that has no room behind the words of its line: it opens the next.
    pub carried: Option<String>,
}

impl Below<'_, '_> {
    /// Adds a line, or what of it has no room above. None, with a finding, where a word is wider than the row.
    pub fn add(&mut self, line: &Line, lines: &mut Vec<RowLine>, found: &mut Findings) -> Option<()> {
        let carried = self.carried.take();
        let keys = |keys: &[String]| -> Vec<String> {
            keys.iter().filter(|key| !self.done.contains(key) && self.row.cell(key).is_some()).cloned().collect()
        };
        let (own, right) = (keys(&line.0), keys(&line.1));
        let left: Vec<String> = carried.into_iter().chain(own).collect();
        if left.is_empty() && right.is_empty() {
            return Some(());
        }
        if self.columns.names == Names::Each {
            return self.joined_lines(&left, &right, lines, found);
        }
        let right = self.moved_up(self.right(&right), lines);
        let mut items = self.left(&left, true);
        if let ([only], true) = (items.as_slice(), right.is_empty())
            && lines.len() > 1
            && self.move_up(only, lines)
        {
            return Some(());
        }
        let limit =
            right.iter().map(|item| item.x - self.room.layout.air(BEFORE_ARROW)).fold(self.room.width, Length::min);
        if items.last().is_some_and(|last| last.end() > limit) {
            items = self.left(&left, false);
        }
        if items.last().is_none_or(|last| last.end() <= limit) {
            if !items.is_empty() || !right.is_empty() {
                lines.push(RowLine { left: items, right, is_first: false });
            }
            return Some(());
        }
        if let Some((last, others)) = left.split_last().filter(|(last, others)| !others.is_empty() && self.warns(last))
        {
            let items = [true, false].map(|is_anchored| self.left(others, is_anchored));
            let fits = |items: &Vec<Item>| items.last().is_none_or(|item| item.end() <= limit);
            if let Some(items) = items.into_iter().find(fits) {
                lines.push(RowLine { left: items, right, is_first: false });
                self.carried = Some(last.clone());
                return Some(());
            }
        }
        self.apart(&left, right, lines, found)
    }

    fn warns(&self, key: &str) -> bool {
        self.row.cell(key).is_some_and(|cell| cell.role == Role::Warning)
    }

    /// A warning that no line took.
    pub fn finish(&mut self, lines: &mut Vec<RowLine>, found: &mut Findings) -> Option<()> {
        if self.carried.is_none() { Some(()) } else { self.add(&Line::default(), lines, found) }
    }

    /// Figures at the end of a line that has nothing there move up, with what stands before them.
    fn moved_up(&self, right: Vec<Item>, lines: &mut [RowLine]) -> Vec<Item> {
        let start = right.iter().map(|item| item.x).fold(self.room.width, Length::min);
        let is_free = |line: &&mut RowLine| {
            !line.is_first && line.right.is_empty() && line.end() + self.room.layout.air(BEFORE_MOVED) <= start
        };
        match lines.last_mut().filter(is_free) {
            Some(line) if !right.is_empty() => {
                line.right = right;
                Vec::new()
            }
            _ => right,
        }
    }

    /// Words move up to the end of the line above, or of the figures, where nothing stands behind them there.
    fn move_up(&self, item: &Item, lines: &mut [RowLine]) -> bool {
        let x = self.room.width - item.width;
        let is_above = self.columns.names == Names::Above;
        let fits = |line: &RowLine| line.end() + self.room.layout.air(BEFORE_MOVED) <= x;
        let last = lines.len().saturating_sub(1);
        let place = lines.iter().enumerate().rev().find(|(place, line)| {
            let is_last = *place == last && !line.is_first && (line.right.is_empty() || is_above);
            let is_figures = line.is_first && !line.right.is_empty() && !is_above;
            (is_last || is_figures) && fits(line)
        });
        let Some(line) = place.map(|(place, _)| place).and_then(|place| lines.get_mut(place)) else { return false };
        line.right.push(item.clone().moved(x));
        true
    }

    /// Cells from the left: the second under the first column of figures, or behind what is longer, or close behind it where there is no room.
    fn left(&self, keys: &[String], is_anchored: bool) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        for key in keys {
            let Some(cell) = self.row.cell(key) else { continue };
            let anchor = self.anchor().filter(|_| is_anchored && items.len() == 1);
            let x = match items.last() {
                None => self.columns.indent,
                Some(before) => (before.end() + self.room.layout.air(AFTER)).max(anchor.unwrap_or(Length::ZERO)),
            };
            items.push(self.words(&cell.text, x));
        }
        items
    }

    fn anchor(&self) -> Option<Length> {
        let first: &FigureColumn = self.columns.figures.iter().find(|column| column.is_used)?;
        (self.columns.names == Names::Beside).then_some(first.left)
    }

    fn words(&self, text: &Text, x: Length) -> Item {
        let style = self.room.layout.style(Role::Body);
        let lines = broken(self.room.pen, text, style, Length::mm(10_000)).unwrap_or_default();
        let line = lines.into_iter().next().unwrap_or_default();
        Item { x, width: line.width, what: What::Words(line) }
    }

    /// Cells from the right edge; what leads on stands in one column, what stands at its end ends with the second column of figures.
    pub fn right(&self, keys: &[String]) -> Vec<Item> {
        let room = self.room;
        let mut edge = room.width;
        let mut items = Vec::new();
        for key in keys.iter().rev() {
            let Some(cell) = self.row.cell(key) else { continue };
            let column = declared(self.columns.table, key);
            let item = if cell.role == Role::Next {
                let arrow = super::row_arrow::room(room);
                Item {
                    x: self.columns.onward - arrow,
                    width: arrow + width(cell, room),
                    what: What::Onward(cell.clone()),
                }
            } else if cell.role.is_dialled() {
                let under = self.columns.figures.last().map_or(edge, |last| last.right);
                self.labelled(cell, heading(self.columns.table, key), edge.min(under))
            } else {
                let item = self.words(&cell.text, Length::ZERO);
                let second = self.columns.figures.get(1).map(|second| second.right);
                let is_end = column.is_some_and(|column| column.align == Align::End);
                let end = second.filter(|_| is_end).unwrap_or(edge).min(edge);
                let x = end - item.width;
                item.moved(x)
            };
            edge = item.x - room.layout.air(BEFORE_ARROW);
            items.push(item);
        }
        items.reverse();
        items
    }

    /// A figure after the heading of its column, its end at an edge.
    fn labelled(&self, cell: &Cell, label: &'static str, edge: Length) -> Item {
        let room = self.room;
        let before = room.pen.width(label, room.layout.style(Role::Body)) + room.layout.air(AFTER_LABEL);
        let width = before + width(cell, room);
        let what = What::Cell { cell: cell.clone(), style: room.layout.style(cell.role), label: Some(label) };
        Item { x: edge - width, width, what }
    }

    /// What does not fit on one line: the first words with what stands right, the others below them from edge to edge.
    fn apart(&self, left: &[String], right: Vec<Item>, lines: &mut Vec<RowLine>, found: &mut Findings) -> Option<()> {
        let (first, rest) = left.split_at(1.min(left.len()));
        let limit =
            right.iter().map(|item| item.x - self.room.layout.air(BEFORE_ARROW)).fold(self.room.width, Length::min);
        let item = self.left(first, false);
        let fits = item.last().is_none_or(|item| item.end() <= limit);
        if fits && !rest.is_empty() {
            lines.push(RowLine { left: item, right, is_first: false });
            return self.broken_lines(rest, lines, found);
        }
        self.broken_lines(first, lines, found)?;
        if !right.is_empty() {
            lines.push(RowLine { left: Vec::new(), right, is_first: false });
        }
        self.broken_lines(rest, lines, found)
    }

    fn broken_lines(&self, keys: &[String], lines: &mut Vec<RowLine>, found: &mut Findings) -> Option<()> {
        let Some(text) = joined(self.row, keys) else { return Some(()) };
        let width = self.room.width - self.columns.indent;
        let style = self.room.layout.style(Role::Body);
        let Some(broken) = broken(self.room.pen, &text, style, width) else {
            self.room.too_wide(&text, width, found);
            return None;
        };
        for line in broken {
            let item = Item { x: self.columns.indent, width: line.width, what: What::Words(line) };
            lines.push(RowLine { left: vec![item], right: Vec::new(), is_first: false });
        }
        Some(())
    }

    /// Words in a row with commas between, what stands right beside their last line where there is room.
    fn joined_lines(
        &self,
        left: &[String],
        right: &[String],
        lines: &mut Vec<RowLine>,
        found: &mut Findings,
    ) -> Option<()> {
        let first = lines.len();
        self.broken_lines(left, lines, found)?;
        let mut of_right = Vec::new();
        self.broken_lines(right, &mut of_right, found)?;
        let to_the_right = |mut line: RowLine| {
            for item in std::mem::take(&mut line.left) {
                let x = self.room.width - item.width;
                line.right.push(item.moved(x));
            }
            line
        };
        let mut of_right: Vec<RowLine> = of_right.into_iter().map(to_the_right).collect();
        if let ([only], Some(line)) = (of_right.as_mut_slice(), lines.get_mut(first..).and_then(<[RowLine]>::last_mut))
        {
            let start = only.right.iter().map(|item| item.x).fold(self.room.width, Length::min);
            if line.end() + self.room.layout.air(GAP) <= start {
                line.right = std::mem::take(&mut only.right);
                return Some(());
            }
        }
        lines.extend(of_right);
        Some(())
    }
}

/// What else stands on the line of a name above its figures, as far as there is room, and its keys: the first words over the second column
/// of figures, what leads on at the right.
pub(super) fn above(row: &Row, columns: &RowColumns<'_>, line: &mut RowLine, room: &Room<'_>) -> Vec<String> {
    let below = Below { row, columns, room, done: Vec::new(), carried: None };
    let keys = |keys: &[String]| -> Vec<String> {
        keys.iter().filter(|key| !columns.set.left.contains(key) && row.cell(key).is_some()).cloned().collect()
    };
    let mut done = keys(&columns.set.above.1);
    let right = below.right(&done);
    let start = |right: &[Item]| right.iter().map(|item| item.x).fold(room.width, Length::min);
    if line.end() + room.layout.air(GAP) <= start(&right) {
        line.right = right;
    } else {
        done.clear();
    }
    for key in keys(&columns.set.above.0) {
        let Some(cell) = row.cell(&key) else { continue };
        let anchor = columns.figures.get(1).map_or(Length::ZERO, |second| second.left);
        let x = (line.left.last().map_or(Length::ZERO, Item::end) + room.layout.air(GAP)).max(anchor);
        let item = below.words(&cell.text, x);
        if item.end() + room.layout.air(GAP) <= start(&line.right) {
            line.left.push(item);
            done.push(key);
        }
    }
    done
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
