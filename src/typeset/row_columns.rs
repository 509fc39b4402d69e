//! The columns of rows of several lines: measured over all rows, so that they stand under each other; and how names stand beside them.

use super::layout::{RowSet, TableSet};
use super::pen::Style;
use super::piece::Room;
use crate::compose::block::{Align, Block, Cell, Column, Role, Row, Table};
use crate::ground::Length;

/// Between two columns of figures, so that nobody reads them as one.
const BETWEEN_FIGURES: Length = Length::hundredths_mm(250);
/// Between two other columns, and between what stands left and right on a line.
pub(super) const GAP: Length = Length::hundredths_mm(190);
/// Between a row's number and its name.
const AFTER_NUMBER: Length = Length::hundredths_mm(75);
/// No text is nearer to a figure.
pub(super) const NEAR: Length = Length::hundredths_mm(150);
/// By how much names become smaller at once.
const STEP: Length = Length::twentieths_pt(10);

/// How the names of a table stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Names {
    /// All beside their figures.
    Beside,
    /// All on a line above their figures.
    Above,
    /// Each beside its figures where it fits, else above them.
    Each,
}

/// The columns of a table.
pub(super) struct RowColumns<'a> {
    pub table: &'a Table,
    pub set: &'a RowSet,
    /// Right edge of a row's number, and where names begin: further lines too.
    pub numbered: Length,
    pub indent: Length,
    pub names: Names,
    /// The style of names.
    pub name: Style,
    /// Each column of figures.
    pub figures: Vec<FigureColumn>,
    /// Where what stands behind an arrow begins.
    pub onward: Length,
}

/// A column of the first line, which stands under and over others.
#[derive(Clone, Copy, Default)]
pub(super) struct FigureColumn {
    /// Left edge.
    pub left: Length,
    /// Right edge.
    pub right: Length,
    /// From how many places on numbers stand point under point; none where they do not.
    pointed: Option<usize>,
    /// Whether texts stand at the right edge.
    is_end: bool,
    /// Whether what it holds is dialled.
    is_dialled: bool,
    /// Whether some row uses it.
    pub is_used: bool,
    /// Widest part up to the point, widest from there on, widest word.
    whole: Length,
    part: Length,
    word: Length,
}

impl FigureColumn {
    fn width(&self) -> Length {
        (self.whole + self.part).max(self.word)
    }

    /// A number that stands point under point, up to there and from there on.
    fn parted<'a>(&self, number: &'a str) -> Option<(&'a str, &'a str)> {
        let places = self.pointed?;
        let (whole, part) = number.split_at(number.find('.')?);
        (part.len() > places).then_some((whole, part))
    }

    /// Where a cell begins. Words among numbers begin at the left edge; a number with fewer places than its column is in another unit and
    /// stands at the right.
    pub fn at(&self, cell: &Cell, room: &Room<'_>) -> Length {
        let words = cell.text.words();
        let style = room.layout.style(cell.role);
        let from_right = self.right - room.pen.width(&words, style);
        if self.is_end {
            return from_right;
        }
        match self.parted(&words).filter(|_| cell.role.is_dialled()) {
            Some((whole, _)) => self.left + self.whole - room.pen.width(whole, style),
            None if self.pointed.is_some() && cell.role.is_dialled() => from_right,
            None => self.left,
        }
    }
}

/// How wide a cell is.
pub(super) fn width(cell: &Cell, room: &Room<'_>) -> Length {
    room.pen.width(&cell.text.words(), room.layout.style(cell.role))
}

/// The column of a table.
pub(super) fn declared<'a>(table: &'a Table, key: &str) -> Option<&'a Column> {
    table.columns.iter().find(|column| column.key == key)
}

/// The columns of a table in its room.
pub(super) fn row_columns<'a>(table: &'a Table, set: &'a RowSet, room: &Room<'_>) -> RowColumns<'a> {
    let usual = room.layout.style(Role::Name);
    let all: Vec<(&Table, &RowSet)> = if set.above.0.is_empty() { Vec::new() } else { alike(room) };
    let (names, name) = if all.is_empty() { (Names::Each, usual) } else { names_of(&all, room) };
    let widest = all.iter().map(|(table, set)| widest_name(table, set, name, room)).fold(Length::ZERO, Length::max);
    let (numbered, indent) = indent(table, set, room);
    let base = set.like.as_ref().and_then(|key| all.iter().find(|(table, _)| table.key == key));
    let placed = |table: &Table, set: &RowSet, indent: Length| {
        let mut columns = measured(table, set, room);
        place(&mut columns, (names, indent, widest), room);
        columns
    };
    let mut figures = placed(table, set, indent);
    if let Some((base, base_set)) = base {
        let theirs = placed(base, base_set, self::indent(base, base_set, room).1);
        figures = taken_over(&figures, &theirs, room).unwrap_or(figures);
    }
    let next = |(_, cell): &(&str, Cell)| (cell.role == Role::Next).then(|| width(cell, room));
    let onward = table.rows.iter().flat_map(|row| &row.cells).filter_map(next).fold(Length::ZERO, Length::max);
    let onward = match figures.last().filter(|_| names == Names::Beside && !room.layout.format.has_panels()) {
        Some(last) => (last.right + room.layout.air(BETWEEN_FIGURES * 2)).min(room.width - onward),
        None => room.width - onward,
    };
    RowColumns { table, set, numbered, indent, names, name, figures, onward }
}

/// The tables of a passage whose names are set alike.
fn alike<'a>(room: &Room<'a>) -> Vec<(&'a Table, &'a RowSet)> {
    let blocks = room.passage.iter().flat_map(|section| &section.blocks);
    let set = |block: &'a Block| {
        let Block::Table(table) = block else { return None };
        let TableSet::Rows(set) = &room.layout.table(table.key)?.set else { return None };
        (!set.above.0.is_empty()).then_some((table, set))
    };
    blocks.filter_map(set).collect()
}

/// Names of the usual size beside their figures; all a little smaller where one is too long for that, all above where that is not enough.
fn names_of(all: &[(&Table, &RowSet)], room: &Room<'_>) -> (Names, Style) {
    let usual = room.layout.style(Role::Name);
    let least = room.layout.style(Role::Word).size;
    let fits = |style: Style| {
        all.iter().all(|(table, set)| {
            // Columns that stand under those of another table begin where these do.
            let base = set.like.as_ref().and_then(|key| all.iter().find(|(table, _)| table.key == key));
            let width = |table: &Table, set: &RowSet| total(&measured(table, set, room), room);
            let under = base.map_or(Length::ZERO, |(table, set)| width(table, set));
            let figures = width(table, set).max(under);
            let taken = figures + indent(table, set, room).1 + room.layout.air(NEAR);
            widest_name(table, set, style, room) + taken <= room.width
        })
    };
    let sizes = std::iter::successors(Some(usual.size), |size| Some(*size - STEP)).take_while(|size| *size >= least);
    let style = sizes.map(|size| Style { size, ..usual }).find(|style| fits(*style));
    style.map_or((Names::Above, usual), |style| (Names::Beside, style))
}

fn widest_name(table: &Table, set: &RowSet, style: Style, room: &Room<'_>) -> Length {
    let Some(key) = set.left.last() else { return Length::ZERO };
    let names = table.rows.iter().filter_map(|row| row.cell(key)).map(|cell| room.pen.width(&cell.text.words(), style));
    names.fold(room.pen.width(heading(table, key), room.layout.style(Role::Heading)), Length::max)
}

/// What is printed over a column.
pub(super) fn heading(table: &Table, key: &str) -> &'static str {
    declared(table, key).map_or("", |column| column.heading)
}

/// The right edge of what stands before the names, and where names begin.
fn indent(table: &Table, set: &RowSet, room: &Room<'_>) -> (Length, Length) {
    let before = set.left.split_last().map_or(&[][..], |(_, before)| before);
    let mut x = Length::ZERO;
    let mut edge = Length::ZERO;
    for key in before {
        let cells = table.rows.iter().filter_map(|row| row.cell(key)).map(|cell| width(cell, room));
        let widest = cells.fold(Length::ZERO, Length::max);
        edge = x + widest;
        x = if widest > Length::ZERO { edge + room.layout.air(AFTER_NUMBER) } else { edge };
    }
    (edge, x)
}

/// The columns of figures, not yet placed. Words that reach over empty columns behind them take less room of their own.
fn measured(table: &Table, set: &RowSet, room: &Room<'_>) -> Vec<FigureColumn> {
    let mut columns: Vec<FigureColumn> = Vec::new();
    // From the last to the first: what stands behind is known.
    for (index, key) in set.right.iter().enumerate().rev() {
        let behind = set.right.get(index + 1..).unwrap_or_default();
        let free = columns.iter().filter(|column| column.is_used).map(|column| room.layout.air(GAP) + column.width());
        let free = free.sum::<Length>();
        let reach = |row: &Row| match behind.iter().all(|key| row.cell(key).is_none()) {
            true => free,
            false => Length::ZERO,
        };
        columns.insert(0, measured_column(table, key, &reach, room));
    }
    columns
}

/// One of them; `reach` says how far its words may go on over what stands behind them in a row.
fn measured_column(table: &Table, key: &str, reach: &dyn Fn(&Row) -> Length, room: &Room<'_>) -> FigureColumn {
    let column = declared(table, key);
    let align = column.map(|column| column.align);
    let mut figures = FigureColumn {
        pointed: align.and_then(Align::places),
        is_end: align == Some(Align::End),
        is_dialled: column.is_some_and(|column| column.role.is_dialled()),
        ..FigureColumn::default()
    };
    for (row, cell) in table.rows.iter().filter_map(|row| Some((row, row.cell(key)?))) {
        figures.is_used = true;
        let style = room.layout.style(cell.role);
        let words = cell.text.words();
        let width = room.pen.width(&words, style);
        if let Some((whole, part)) = figures.parted(&words).filter(|_| cell.role.is_dialled()) {
            figures.whole = figures.whole.max(room.pen.width(whole, style));
            figures.part = figures.part.max(room.pen.width(part, style));
        } else {
            let over = if cell.role.is_dialled() { Length::ZERO } else { reach(row) };
            figures.word = figures.word.max(width - over);
        }
    }
    if figures.is_used {
        let head = room.pen.width(heading(table, key), room.layout.style(Role::Heading));
        figures.word = figures.word.max(head);
    }
    figures
}

/// What parts a column from the one behind it.
fn gap(column: &FigureColumn, next: &FigureColumn, room: &Room<'_>) -> Length {
    let is_pair = column.pointed.is_some() && next.pointed.is_some() && column.is_dialled && next.is_dialled;
    room.layout.air(if is_pair { BETWEEN_FIGURES } else { GAP })
}

fn total(columns: &[FigureColumn], room: &Room<'_>) -> Length {
    let used: Vec<&FigureColumn> = columns.iter().filter(|column| column.is_used).collect();
    let gaps = used.windows(2).map(|pair| pair.first().zip(pair.last()).map_or(Length::ZERO, |(a, b)| gap(a, b, room)));
    used.iter().map(|column| column.width()).sum::<Length>() + gaps.sum()
}

/// On panels up to the right edge; on pages, and under names, from the left on, the last one at the right edge where it stands at its end.
fn place(columns: &mut [FigureColumn], (names, indent, widest): (Names, Length, Length), room: &Room<'_>) {
    let all = total(columns, room);
    let from_left = match names {
        Names::Above => Some(indent),
        Names::Beside if !room.layout.format.has_panels() => {
            Some(indent + widest + room.layout.air(BETWEEN_FIGURES)).filter(|x| *x + all <= room.width)
        }
        Names::Beside | Names::Each => None,
    };
    let mut x = from_left.unwrap_or(room.width - all);
    let mut before: Option<FigureColumn> = None;
    for column in columns.iter_mut() {
        if !column.is_used {
            (column.left, column.right) = (x, x);
            continue;
        }
        x += before.map_or(Length::ZERO, |before| gap(&before, column, room));
        (column.left, column.right) = (x, x + column.width());
        x = column.right;
        before = Some(*column);
    }
    if let Some(last) = columns.last_mut().filter(|last| last.is_end && names == Names::Above) {
        (last.left, last.right) = (last.left + room.width - last.right, room.width);
    }
}

/// The same columns where those of another table stand; none where they do not fit there.
fn taken_over(columns: &[FigureColumn], theirs: &[FigureColumn], room: &Room<'_>) -> Option<Vec<FigureColumn>> {
    let mut taken: Vec<FigureColumn> = Vec::new();
    for (index, column) in columns.iter().enumerate() {
        let base = theirs.get(index)?;
        let left = if column.is_end { base.right - column.width() } else { base.left };
        let right = if column.is_end { base.right } else { base.left + column.width() };
        if let Some(before) = taken.last().filter(|before| before.is_used && column.is_used) {
            (before.right + gap(before, column, room) <= left).then_some(())?;
        }
        taken.push(FigureColumn { left, right, ..*column });
    }
    let fits = taken.last().is_none_or(|last| last.right <= room.width);
    fits.then_some(taken)
}
