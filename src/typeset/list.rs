//! A table as a list: close lines, numbers at the right of their column, a rule only where the label of the rows changes; in as many columns of text as
//! there is room for.

use super::layout::Layout;
use super::lines::{TextLine, broken, leading};
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Align, Cell, Column, Role, Row, StripFlag, Table, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{CellPlace, Glyphs, HAIRLINE, Mark, Point, ReadPlace, across};

/// What is dialled: the tallest of a row.
const FIGURE: Role = StripFlag::FIGURE;
/// Between two columns of the list, and between two columns of text.
const GAP: Length = Length::hundredths_mm(220);
const GUTTER: Length = Length::mm(9);
/// The fewest rows that are worth a column of text.
const LEAST: usize = 2;
/// Under the headings, and around a rule between two groups.
const UNDER_HEAD: Length = Length::hundredths_mm(70);
const AROUND: Length = Length::hundredths_mm(35);
/// How far what stands below the others is set in.
const INDENT: Length = Length::hundredths_mm(300);

/// A column with what it takes.
struct ListColumn<'a> {
    column: &'a Column,
    left: Length,
    width: Length,
    /// The widest part of a number behind its point, where all stand point under point.
    part: Length,
}

/// The pieces of a table, each as high as a panel at most.
pub(super) fn list_pieces(
    table: &Table,
    (keys, below): (&[String], &[String]),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let used: Vec<&Column> =
        keys.iter().filter_map(|key| table.columns.iter().find(|column| column.key == key)).collect();
    let natural = columns(table, &used, room, None);
    let width = natural.last().map_or(Length::ZERO, |last| last.left + last.width);
    let gutter = room.layout.air(GUTTER);
    let count = ((room.width + gutter).as_grains() / (width + gutter).as_grains().max(1))
        .clamp(1, i64::try_from(table.rows.len().div_ceil(LEAST)).unwrap_or(1).max(1));
    let each = (room.width - gutter * (count - 1)) / count;
    let columns = columns(table, &used, room, Some(each));
    // What the last column lacks may be the room of its heading.
    let head = |column: &ListColumn<'_>| room.pen.width(column.column.heading, room.layout.style(Role::Heading));
    if let Some(narrow) = columns.iter().find(|column| column.width < head(column)) {
        // What takes the room is told, not what lacks it.
        let cells =
            || table.rows.iter().flat_map(|row| &row.cells).filter(|(key, _)| keys.iter().any(|own| own == key));
        match cells().max_by_key(|(_, cell)| cell_width(cell, room)) {
            Some((_, cell)) => room.too_wide(&cell.text, room.width.fraction(1, 3), found),
            None => room.too_wide(&Text::own(narrow.column.heading), narrow.width.max(Length::ZERO), found),
        }
        return Vec::new();
    }
    let list = List { columns, below, each, gutter, room };
    let mut rows = Vec::new();
    for row in &table.rows {
        let Some(lines) = list.row(row, found) else { return Vec::new() };
        rows.push((row, lines));
    }
    let mut pieces = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let (taken, setting) = list.filled(rest, usize::try_from(count).unwrap_or(1));
        let span = rest.first().map_or(Span::NOWHERE, |(row, _)| row.span);
        let words =
            rest.first().map(|(row, _)| row.cells.first().map(|(_, cell)| cell.text.words()).unwrap_or_default());
        let label = index_range(rest.get(..taken).unwrap_or(rest));
        pieces.push(Piece {
            setting,
            span,
            words: words.unwrap_or_default(),
            label,
            is_list: true,
            ..Piece::default()
        });
        rest = rest.get(taken.max(1)..).unwrap_or_default();
    }
    pieces
}

/// Rows that are labelled by letters are an index: its title says from which letter to which, and no rule parts them.
fn is_letter(label: &str) -> bool {
    label.chars().count() == 1 && label.chars().all(char::is_alphabetic)
}

fn index_range(rows: &[(&Row, ListRow<'_>)]) -> String {
    let mut letters = rows.iter().map(|(row, _)| row.label.as_str()).filter(|label| is_letter(label));
    match (letters.next(), letters.next_back()) {
        (Some(first), Some(last)) if first != last => format!("{first}\u{2013}{last}"),
        (first, _) => first.unwrap_or_default().to_owned(),
    }
}

/// Widths as wanted; what a given width leaves over stands before the last column, and what it lacks is taken from that.
fn columns<'a>(table: &'a Table, used: &[&'a Column], room: &Room<'_>, width: Option<Length>) -> Vec<ListColumn<'a>> {
    let mut columns: Vec<ListColumn<'a>> = Vec::new();
    let mut left = Length::ZERO;
    for column in used {
        let mut measure = measured(table, column, room);
        measure.left = left;
        left += measure.width + room.layout.air(GAP);
        columns.push(measure);
    }
    if let (Some(width), Some(last)) = (width, columns.last_mut()) {
        let is_end = is_at_end(last.column);
        let spare = width - last.left - last.width;
        if is_end && spare > Length::ZERO {
            last.left += spare;
        } else {
            last.width += spare;
        }
    }
    columns
}

/// Numbers stand at the right of their column, and so does what is last in a row.
fn is_at_end(column: &Column) -> bool {
    column.align != Align::Start || column.role == Role::Number
}

fn measured<'a>(table: &Table, column: &'a Column, room: &Room<'_>) -> ListColumn<'a> {
    let head = room.pen.width(column.heading, room.layout.style(Role::Heading));
    let (mut whole, mut part, mut width) = (Length::ZERO, Length::ZERO, head);
    for cell in table.rows.iter().filter_map(|row| row.cell(column.key)) {
        let words = cell.text.words();
        width = width.max(cell_width(cell, room));
        if let Some(at) = point(column, cell, &words) {
            let style = room.layout.style(cell.role);
            whole = whole.max(room.pen.width(words.get(..at).unwrap_or_default(), style));
            part = part.max(room.pen.width(words.get(at..).unwrap_or_default(), style));
        }
    }
    ListColumn { column, left: Length::ZERO, width: width.max(whole + part), part }
}

fn cell_width(cell: &Cell, room: &Room<'_>) -> Length {
    room.pen.line_width(&cell.text, room.layout.style(cell.role))
}

/// Where the point of a number is.
fn point(column: &Column, cell: &Cell, words: &str) -> Option<usize> {
    let is_number = column.align.places().is_some() && cell.role == column.role;
    words.find('.').filter(|_| is_number)
}

/// What a list is set with.
struct List<'a> {
    columns: Vec<ListColumn<'a>>,
    /// What stands below the others, where a row has it.
    below: &'a [String],
    each: Length,
    gutter: Length,
    room: &'a Room<'a>,
}

/// A cell with its lines.
struct ListCell<'t> {
    column: usize,
    cell: &'t Cell,
    lines: Vec<TextLine>,
    /// How many lines below the others it begins.
    down: usize,
    /// Its left edge, where it is not that of its column.
    left: Option<Length>,
}

/// A row with its cells.
type ListRow<'t> = Vec<ListCell<'t>>;

impl List<'_> {
    fn layout(&self) -> &Layout {
        self.room.layout
    }

    /// From one row to the next.
    fn pitch(&self) -> Length {
        let sizes = [FIGURE, Role::Name, Role::Word].map(|role| self.layout().style(role).size);
        sizes.into_iter().fold(Length::ZERO, Length::max).fraction(117, 100)
    }

    /// None, with a finding, where a word is wider than its column.
    fn row<'t>(&self, row: &'t Row, found: &mut Findings) -> Option<ListRow<'t>> {
        let mut cells = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            let Some(cell) = row.cell(column.column.key) else { continue };
            let style = self.layout().style(cell.role);
            // What is last in a row has a line of its own where it does not fit beside the others.
            let is_last = index + 1 == self.columns.len() && index > 0;
            let is_below = is_last && cell_width(cell, self.room) > column.width;
            let width = if is_below { self.each } else { column.width.max(Length::ZERO) };
            let Some(lines) = broken(self.room.pen, &cell.text, style, width) else {
                self.room.too_wide(&cell.text, width, found);
                return None;
            };
            cells.push(ListCell { column: index, cell, lines, down: usize::from(is_below), left: None });
        }
        self.under(row, &mut cells, found)?;
        Some(cells)
    }

    /// What a row has below the others: beside each other as far as there is room.
    fn under<'t>(&self, row: &'t Row, cells: &mut ListRow<'t>, found: &mut Findings) -> Option<()> {
        if self.beside(row, cells) {
            return Some(());
        }
        let indent = self.layout().air(INDENT);
        let mut down = cells.iter().map(|cell| cell.down + cell.lines.len()).max().unwrap_or(1);
        let mut x = indent;
        for (index, key) in self.below.iter().enumerate() {
            let Some(cell) = row.cell(key) else { continue };
            let style = self.layout().style(cell.role);
            let width = cell_width(cell, self.room);
            if x > indent && x + width > self.each {
                (x, down) = (indent, down + 1);
            }
            let Some(lines) = broken(self.room.pen, &cell.text, style, self.each - x) else {
                self.room.too_wide(&cell.text, self.each - x, found);
                return None;
            };
            let taken = lines.len();
            cells.push(ListCell { column: self.columns.len() + index, cell, lines, down, left: Some(x) });
            x += width + self.layout().air(GAP);
            if taken > 1 {
                (x, down) = (indent, down + taken);
            }
        }
        Some(())
    }

    /// What is short moves up to the end of the line.
    fn beside<'t>(&self, row: &'t Row, cells: &mut ListRow<'t>) -> bool {
        let own: Vec<(usize, &Cell)> =
            self.below.iter().enumerate().filter_map(|(index, key)| Some((index, row.cell(key)?))).collect();
        let gap = self.layout().air(GAP);
        let width: Length = own.iter().map(|(_, cell)| gap + cell_width(cell, self.room)).sum();
        let end = |cell: &ListCell<'_>| {
            let column = self.columns.get(cell.column).map_or(Length::ZERO, |column| column.left);
            column + cell.lines.iter().map(|line| line.width).fold(Length::ZERO, Length::max)
        };
        let taken = cells.iter().map(end).fold(Length::ZERO, Length::max);
        if taken + width > self.each || cells.iter().any(|cell| cell.lines.len() > 1) {
            return false;
        }
        let mut x = self.each - width;
        for (index, cell) in own {
            let style = self.layout().style(cell.role);
            let Some(lines) = broken(self.room.pen, &cell.text, style, self.each) else { return false };
            x += gap;
            cells.push(ListCell { column: self.columns.len() + index, cell, lines, down: 0, left: Some(x) });
            x += cell_width(cell, self.room);
        }
        true
    }

    fn height(&self, cells: &ListRow<'_>) -> Length {
        let more = |ListCell { cell, lines, down, .. }: &ListCell<'_>| {
            let lines = (down + lines.len()).saturating_sub(1);
            leading(self.layout().style(cell.role).size) * i64::try_from(lines).unwrap_or(0)
        };
        self.pitch() + cells.iter().map(more).fold(Length::ZERO, Length::max)
    }

    fn head_height(&self) -> Length {
        let style = self.layout().style(Role::Heading);
        style.capital() + style.tail() + self.layout().air(UNDER_HEAD) * 2
    }

    /// As many rows as the columns hold on an empty panel, shared evenly among them.
    fn filled(&self, rows: &[(&Row, ListRow<'_>)], count: usize) -> (usize, Setting) {
        let room = self.room.height - self.layout().air(Length::mm(4));
        let (mut low, mut high) = (Length::ZERO, room);
        let all = self.parted(rows, count, room);
        let taken: usize = all.iter().sum();
        // The least height at which as many rows stand in the columns, found by halving.
        while high - low > Length::hundredths_mm(20) {
            let middle = (low + high) / 2;
            if self.parted(rows, count, middle).iter().sum::<usize>() >= taken { high = middle } else { low = middle }
        }
        let mut setting = Setting::default();
        let mut from = 0;
        for (index, length) in self.parted(rows, count, high).into_iter().enumerate() {
            let x = (self.each + self.gutter) * i64::try_from(index).unwrap_or(0);
            let column = self.column(rows.get(from..from + length).unwrap_or_default(), index);
            setting.marks.extend(column.at(Point { x, y: Length::ZERO }));
            setting.height = setting.height.max(column.height);
            from += length;
        }
        (from, setting)
    }

    /// How many rows each column of a height takes.
    fn parted(&self, rows: &[(&Row, ListRow<'_>)], count: usize, height: Length) -> Vec<usize> {
        let mut lengths = Vec::new();
        let (mut length, mut y) = (0, self.head_height());
        let mut last: Option<&str> = None;
        for (row, cells) in rows {
            let before = if self.is_parted(last, row) { self.around() * 2 } else { Length::ZERO };
            let needed = before + self.height(cells);
            if y + needed > height && length > 0 {
                lengths.push(length);
                if lengths.len() == count {
                    return lengths;
                }
                (length, y) = (0, self.head_height() + self.height(cells));
            } else {
                y += needed;
            }
            length += 1;
            last = Some(&row.label);
        }
        lengths.push(length);
        lengths
    }

    /// Whether a rule stands over a row: it is of another group than the one before.
    fn is_parted(&self, last: Option<&str>, row: &Row) -> bool {
        last.is_some_and(|last| last != row.label && !is_letter(&row.label))
    }

    fn around(&self) -> Length {
        self.layout().air(AROUND)
    }

    /// One column of text: its headings and rows.
    fn column(&self, rows: &[(&Row, ListRow<'_>)], table: usize) -> Setting {
        let mut setting = Setting { marks: self.head(table), height: self.head_height() };
        let mut last: Option<&str> = None;
        for (index, (row, cells)) in rows.iter().enumerate() {
            if self.is_parted(last, row) {
                let y = setting.height + self.around();
                setting.marks.push(across(Length::ZERO, self.each, y, HAIRLINE));
                setting.height += self.around() * 2;
            }
            last = Some(&row.label);
            let capital = self.layout().style(FIGURE).capital();
            let baseline =
                setting.height + (self.pitch() + capital) / 2 - self.layout().style(Role::Small).size.fraction(4, 100);
            for ListCell { column: number, cell, lines, down, left } in cells {
                let own = |line: &TextLine| self.columns.get(*number).map(|column| self.x(column, cell, line));
                let mut y = baseline + leading(self.layout().style(cell.role).size) * i64::try_from(*down).unwrap_or(0);
                for line in lines {
                    let at = Point { x: left.or_else(|| own(line)).unwrap_or_default(), y };
                    let place = place(table, index + 1, *number);
                    let runs = line.place(self.room.pen, at).into_iter();
                    setting.marks.extend(runs.map(|run| Mark::Glyphs(Glyphs { place, ..run })));
                    y += leading(self.layout().style(cell.role).size);
                }
            }
            setting.height += self.height(cells);
        }
        setting
    }

    fn x(&self, column: &ListColumn<'_>, cell: &Cell, line: &TextLine) -> Length {
        let end = column.left + column.width;
        let words = cell.text.words();
        match point(column.column, cell, &words) {
            Some(at) => {
                let style = self.layout().style(cell.role);
                end - column.part - self.room.pen.width(words.get(..at).unwrap_or_default(), style)
            }
            None if is_at_end(column.column) => end - line.width,
            None => column.left,
        }
    }

    fn head(&self, table: usize) -> Vec<Mark> {
        let style = self.layout().style(Role::Heading);
        let y = self.layout().air(UNDER_HEAD) + style.capital();
        let headed = self.columns.iter().enumerate().filter(|(_, column)| !column.column.heading.is_empty());
        let mut marks: Vec<Mark> = headed
            .map(|(index, column)| {
                let words = self.room.pen.write(column.column.heading, style, Span::NOWHERE, Point::default());
                let x = if is_at_end(column.column) { column.left + column.width - words.width } else { column.left };
                Mark::Glyphs(Glyphs { at: Point { x, y }, place: place(table, 0, index), ..words })
            })
            .collect();
        marks.push(across(Length::ZERO, self.each, self.head_height() - self.layout().air(UNDER_HEAD) / 2, HAIRLINE));
        marks
    }
}

/// A cell of one of the tables side by side, each of which is read by itself.
fn place(table: usize, row: usize, column: usize) -> ReadPlace {
    let short = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
    let cell = CellPlace { table: short(table), row: short(row), column: short(column) };
    ReadPlace { block: u32::from(short(table)), cell: Some(cell) }
}
