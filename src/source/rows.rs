//! The rows of a table -> the same records as those of a TOML file, with the place of each cell.

use super::csv;
use super::include::{FILE_LIMIT, WrittenRecord, explain, too_much};
use super::node::{Key, Node, Value};
use super::rules::{
    BAD_VALUE, COLUMN_NOT_READ, COLUMN_REPEATED, COLUMN_UNKNOWN, FILE_NOT_TEXT, FILE_TOO_LARGE, FILE_UNREADABLE,
    INCLUDE_LEAVES_FOLDER, ROW_UNEVEN, SHEET_NOT_NAMED, SHEET_UNKNOWN, TABLE_UNREADABLE,
};
use super::sheet::{self, Fault, Laid, LaidCell, SheetRead};
use super::table::{DecimalMark, RecordTable, TableColumn, put};
use crate::ground::{At, FileId, Files, Finding, Findings, ReadFault, Span, World, column_letters, nearest, plural};
use std::borrow::Cow;

/// Reads a table as records of a kind; empty cells are as if not written.
pub fn read_table(
    world: &dyn World,
    kind: &'static str,
    table: &RecordTable,
    files: &mut Files,
    found: &mut Findings,
) -> Vec<WrittenRecord> {
    let Some(read) = Read::of(world, table, files, found) else { return Vec::new() };
    let text = files.get(read.id).map(|file| &*file.text).unwrap_or_default();
    let Some(at) = read.heading_row(table, text, found) else { return Vec::new() };
    let headings: Vec<String> = read.cells(text, at).map(|cell| read.said(&cell).into_owned()).collect();
    let columns = matched(table, &headings, found);
    let (mut records, mut skipped) = (Vec::new(), vec![false; table.skip.len()]);
    for row in at + 1..read.laid.height() {
        let cells: Vec<LaidCell<'_>> = read.cells(text, row).collect();
        let mut filled = cells.iter().enumerate().filter(|(_, cell)| !cell.text.is_empty());
        let Some(first) = filled.next() else { continue };
        if filled.next().is_none() && read.is_between(first, &columns, table, &mut skipped) {
            continue;
        }
        if read.separator.is_some() && cells.len() != headings.len() {
            found.push(uneven(&cells, headings.len()));
            continue;
        }
        records.extend(read.record(kind, &cells, (&columns, table), found));
    }
    for (title, _) in table.skip.iter().zip(skipped).filter(|(_, was)| !was) {
        let what = format!("no row of {} has \"{}\" and nothing else", table.file.value, title.value);
        found.push(Finding::new(&BAD_VALUE, title.span, what).label("skips nothing"));
    }
    let grid = read.laid.into_grid(headings, read.separator.is_none());
    files.lay(read.id, grid);
    records
}

/// A table that was read.
struct Read {
    id: FileId,
    laid: Laid,
    /// What parts the cells of a CSV file; none in a sheet.
    separator: Option<u8>,
}

impl Read {
    fn of(world: &dyn World, table: &RecordTable, files: &mut Files, found: &mut Findings) -> Option<Self> {
        let file = &table.file;
        let bytes = match world.read(file, FILE_LIMIT) {
            Ok(bytes) => bytes,
            Err(fault) => {
                found.push(unreadable(file, &fault));
                return None;
            }
        };
        if sheet::is_spreadsheet(&bytes) {
            Self::of_sheet(&bytes, table, files, found)
        } else {
            Self::of_text(bytes, table, files, found)
        }
    }

    fn of_sheet(bytes: &[u8], table: &RecordTable, files: &mut Files, found: &mut Findings) -> Option<Self> {
        let file = &table.file;
        let wanted = table.sheet.as_ref().map(|sheet| sheet.value.as_str());
        let SheetRead { name, names, mut laid } = match sheet::read(bytes, wanted) {
            Ok(sheet) => sheet,
            Err(fault) => {
                found.push(fault_of(table, &fault));
                return None;
            }
        };
        if let ([first, others @ ..], None) = (names.as_slice(), wanted)
            && !others.is_empty()
        {
            let others = others.iter().take(10).map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
            let what =
                format!("{} has more than one sheet; the first, \"{first}\", is read, and not {others}", file.value);
            let finding = Finding::new(&SHEET_NOT_NAMED, file.span, what).label("names no sheet");
            found.push(finding.help(format!("add `sheet = \"{first}\"`")));
        }
        let text = std::mem::take(&mut laid.text);
        let id = added(&format!("{}, sheet {name}", file.value), file, text, files, found)?;
        Some(Self { id, laid, separator: None })
    }

    fn of_text(bytes: Vec<u8>, table: &RecordTable, files: &mut Files, found: &mut Findings) -> Option<Self> {
        let file = &table.file;
        if let Some(sheet) = &table.sheet {
            let what = format!("{} is a text, which has no sheets", file.value);
            found.push(Finding::new(&BAD_VALUE, sheet.span, what).label("names a sheet").help("leave `sheet` out"));
        }
        let text = match String::from_utf8(bytes) {
            Ok(text) => text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text),
            Err(fault) => {
                let from = fault.utf8_error().valid_up_to() + 1;
                let what = format!("{} cannot be read: it is not UTF-8 text from byte {from} on", file.value);
                found.push(Finding::new(&FILE_NOT_TEXT, file.span, what).label("asked for here"));
                return None;
            }
        };
        let separator = separator(table, found)?;
        let id = added(file, file, text, files, found)?;
        let text = files.get(id).map(|file| &*file.text).unwrap_or_default();
        let laid = csv::lay(text, separator).map_err(|fault| found.push(fault_of(table, &fault))).ok()?;
        Some(Self { id, laid, separator: Some(separator) })
    }

    fn cells<'a>(&'a self, text: &'a str, row: usize) -> impl Iterator<Item = LaidCell<'a>> {
        self.laid.row(self.id, text, row)
    }

    fn said<'a>(&self, cell: &LaidCell<'a>) -> Cow<'a, str> {
        self.separator.map_or(Cow::Borrowed(cell.text), |separator| csv::said(cell.text, separator))
    }

    /// Whether a cell that stands alone in its row makes no record of it: a title that is to be skipped, or the number of an empty line.
    fn is_between(
        &self,
        (at, cell): (usize, &LaidCell<'_>),
        columns: &[Matched<'_>],
        table: &RecordTable,
        skipped: &mut [bool],
    ) -> bool {
        let said = self.said(cell);
        let mut is_title = false;
        for (title, was) in table.skip.iter().zip(skipped) {
            if title.value.trim() == said {
                (is_title, *was) = (true, true);
            }
        }
        let is_number = said.bytes().all(|byte| byte.is_ascii_digit());
        let numbers = columns
            .iter()
            .any(|one| one.at == at && matches!(one.column.path.as_slice(), [only] if only.text == "row"));
        is_title || (is_number && numbers && columns.len() > 1)
    }

    /// The row that has the headings: the one that is named, or the first that is not empty.
    fn heading_row(&self, table: &RecordTable, text: &str, found: &mut Findings) -> Option<usize> {
        let is_filled = |row: &usize| self.cells(text, *row).any(|cell| !cell.text.is_empty());
        let first = (0..self.laid.height()).find(is_filled);
        let Some(wanted) = &table.heading_row else {
            if first.is_none() {
                let what = format!("{} is empty", table.file.value);
                found.push(Finding::new(&TABLE_UNREADABLE, table.file.span, what).label("has no headings"));
            }
            return first.filter(|row| self.is_parted(table, text, *row, found));
        };
        let number = usize::try_from(wanted.value.get()).unwrap_or(usize::MAX);
        // A text has its rows on lines, of which empty ones are none: counted on from row to row.
        let (mut line, mut counted) = (1, 0);
        let mut line_of = |row: usize| {
            let start = self.cells(text, row).next().and_then(|cell| usize::try_from(cell.span.start).ok());
            let start = start.unwrap_or(counted);
            line += text.get(counted..start).unwrap_or_default().matches('\n').count();
            counted = start;
            line
        };
        let is_wanted =
            |row: &usize| if self.separator.is_some() { line_of(*row) == number } else { row + 1 == number };
        let row = (0..self.laid.height()).find(is_wanted).filter(is_filled);
        if row.is_none() {
            let what = format!("row {number} of {} is empty", table.file.value);
            found.push(Finding::new(&BAD_VALUE, wanted.span, what).label("has no headings"));
        }
        row
    }

    /// Whether headings stand in more than one cell; where not, because another mark parts them, that is said once.
    fn is_parted(&self, table: &RecordTable, text: &str, row: usize, found: &mut Findings) -> bool {
        let mut cells = self.cells(text, row);
        let (Some(only), None) = (cells.next(), cells.next()) else { return true };
        let other = [(';', ";"), ('\t', "\\t")].into_iter().find(|(mark, _)| only.text.contains(*mark));
        let Some((_, typed)) = other.filter(|_| self.separator.is_some()) else { return true };
        let what = format!("the headings of {} stand in one cell", table.file.value);
        let finding = Finding::new(&COLUMN_UNKNOWN, only.span, what).label("parted by another mark than a comma");
        found.push(finding.and(table.file.span, "asked for here").help(format!("add `separator = \"{typed}\"`")));
        false
    }

    fn record(
        &self,
        kind: &'static str,
        cells: &[LaidCell<'_>],
        (columns, table): (&[Matched<'_>], &RecordTable),
        found: &mut Findings,
    ) -> Option<WrittenRecord> {
        let span = cells.iter().find(|cell| !cell.text.is_empty()).map_or(Span::NOWHERE, |cell| cell.span);
        let mark = table.decimal.as_ref().map_or(DecimalMark::Point, |mark| mark.value);
        let (mut entries, mut is_sound): (Vec<(Key, Node)>, bool) = (Vec::new(), true);
        for Matched { column, at, next } in columns {
            let filled = |at: usize| cells.get(at).filter(|cell| !cell.text.is_empty());
            let (first, next) = (filled(*at), next.and_then(filled));
            for (cell, fault) in first.into_iter().chain(next).filter_map(|cell| Some((cell, cell.fault?))) {
                found.push(Finding::new(&BAD_VALUE, cell.span, format!("this cell {fault}")).label("cannot be taken"));
                is_sound = false;
            }
            let node = match (first, next) {
                (None, None) => continue,
                (Some(cell), None) | (None, Some(cell)) => {
                    let said = self.said(cell);
                    // A name may have one part; half a position is another place.
                    if let (Some(goes_on), true) = (&column.followed_by, TableColumn::is_number(&said, mark)) {
                        let what =
                            format!("{said} stands alone below \"{}\" and \"{}\"", column.heading.value, goes_on.value);
                        let finding = Finding::new(&BAD_VALUE, cell.span, what).label("half of a value");
                        found.push(finding.help("fill both cells, or none"));
                        is_sound = false;
                    }
                    column.node(&said, mark, cell.span)
                }
                (Some(first), Some(next)) => {
                    let text = TableColumn::joined(&self.said(first), &self.said(next), mark);
                    let span = Span { end: next.span.end.max(first.span.end), ..first.span };
                    column.node(&text, mark, span)
                }
            };
            put(&mut entries, &column.path, node);
        }
        let kind = Key { text: kind.to_owned(), span };
        let mut record = WrittenRecord::new(kind, Node { value: Value::Table(entries), span });
        if let Some(defaults) = &table.defaults {
            record.fill(&defaults.value.0);
        }
        is_sound.then_some(record)
    }
}

/// A column that is mapped, and where it stands.
struct Matched<'a> {
    column: &'a TableColumn,
    at: usize,
    /// The column that goes on with it.
    next: Option<usize>,
}

fn unreadable(file: &At<String>, fault: &ReadFault) -> Finding {
    let rule = match fault {
        ReadFault::OutsideFolder => &INCLUDE_LEAVES_FOLDER,
        ReadFault::TooLarge(_) => &FILE_TOO_LARGE,
        _ => &FILE_UNREADABLE,
    };
    Finding::new(rule, file.span, format!("{} cannot be read: {}", file.value, explain(fault))).label("asked for here")
}

fn fault_of(table: &RecordTable, fault: &Fault) -> Finding {
    let file = &table.file;
    match fault {
        Fault::Broken(why) => {
            let what = format!("{} cannot be read: {why}", file.value);
            let finding = Finding::new(&TABLE_UNREADABLE, file.span, what).label("asked for here");
            finding.help("open it in a spreadsheet program, and save it as .xlsx or .ods without a password")
        }
        Fault::TooMuch(cap) => too_much(file, &format!("it has more than {} {}", cap.most, cap.of), file.span),
        Fault::NoSuch(names) => {
            let wanted = table.sheet.as_ref().unwrap_or(file);
            let what = format!("{} has no sheet \"{}\"", file.value, wanted.value);
            let finding = Finding::new(&SHEET_UNKNOWN, wanted.span, what).label("no such sheet");
            let list = names.iter().take(10).map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
            let finding = finding.note(format!("its sheets: {list}"));
            match nearest(&wanted.value, names.iter().map(String::as_str)) {
                Some(name) => finding.did_you_mean(name),
                None => finding,
            }
        }
    }
}

/// Takes a text to the other files, where there is room for it.
fn added(name: &str, file: &At<String>, text: String, files: &mut Files, found: &mut Findings) -> Option<FileId> {
    match files.too_much(&text) {
        Some(why) => {
            found.push(too_much(file, &why, file.span));
            None
        }
        None => Some(files.add(name, text)),
    }
}

fn separator(table: &RecordTable, found: &mut Findings) -> Option<u8> {
    let Some(written) = &table.separator else { return Some(b',') };
    match written.value.as_bytes() {
        [mark] if mark.is_ascii() && !matches!(mark, b'"' | b'\n' | b'\r') => Some(*mark),
        _ => {
            let what = format!("\"{}\" cannot part cells", written.value);
            let finding = Finding::new(&BAD_VALUE, written.span, what).label("cannot be taken");
            found.push(finding.help("write one sign, as \";\""));
            None
        }
    }
}

/// Each mapped column with its number. What is mapped and not there, or there twice, is reported; what is there and not mapped is told.
fn matched<'a>(table: &'a RecordTable, headings: &[String], found: &mut Findings) -> Vec<Matched<'a>> {
    let columns = &table.columns.value.0;
    let mut matched = Vec::new();
    for column in columns {
        let next = column.followed_by.as_ref();
        let next = next.map(|next| number_of((next, None), table, headings, found));
        let at = number_of((&column.heading, column.nth), table, headings, found);
        // What goes on with nothing is told of, and not half read.
        if let (Some(at), None | Some(Some(_))) = (at, next) {
            matched.push(Matched { column, at, next: next.flatten() });
        }
    }
    let ignored: Vec<usize> =
        table.ignore.iter().flat_map(|heading| ignored(heading, table, headings, found)).collect();
    let is_read = |at: &usize| matched.iter().any(|own| own.at == *at || own.next == Some(*at)) || ignored.contains(at);
    let left = headings.iter().enumerate().filter(|(at, heading)| !heading.is_empty() && !is_read(at));
    let left: Vec<String> = left.map(|(_, heading)| format!("\"{heading}\"")).collect();
    if !left.is_empty() {
        let list = left.iter().take(UNREAD).cloned().collect::<Vec<_>>().join(", ");
        let more = left.len().saturating_sub(UNREAD);
        let and = if more > 0 { format!(" and {more} more") } else { String::new() };
        let what = format!("{} of {} not read: {list}{and}", are(left.len()), table.file.value);
        let finding = Finding::new(&COLUMN_NOT_READ, table.file.span, what).label("has columns that no key has");
        found.push(finding.help(format!("map them to keys, or add `ignore = [{list}]`{and}")));
    }
    matched
}

/// How many columns that are not read are named.
const UNREAD: usize = 12;

fn are(count: usize) -> String {
    if count == 1 { "a column".to_owned() } else { format!("{count} columns") }
}

/// The columns under a heading.
fn places<'a>(heading: &'a At<String>, headings: &'a [String]) -> impl Iterator<Item = usize> + 'a {
    headings.iter().enumerate().filter(|(_, text)| **text == heading.value.trim()).map(|(at, _)| at)
}

/// Every column under a heading that is not to be read.
fn ignored(heading: &At<String>, table: &RecordTable, headings: &[String], found: &mut Findings) -> Vec<usize> {
    let all: Vec<usize> = places(heading, headings).collect();
    if all.is_empty() {
        found.push(no_column(heading, table, headings));
    }
    all
}

fn number_of(
    (heading, nth): (&At<String>, Option<usize>),
    table: &RecordTable,
    headings: &[String],
    found: &mut Findings,
) -> Option<usize> {
    let file = &table.file.value;
    let all: Vec<usize> = places(heading, headings).collect();
    match (all.as_slice(), nth) {
        ([], _) => {
            found.push(no_column(heading, table, headings));
            None
        }
        ([only], None) => Some(*only),
        ([first, second, ..], None) => {
            let letters = [*first, *second].map(column_letters).join(" and ");
            let what = format!("\"{}\" stands above two columns of {file}, {letters}", heading.value);
            let finding = Finding::new(&COLUMN_REPEATED, heading.span, what).label("could mean either");
            let column = format!("{{ heading = \"{}\", nth = 2 }}", heading.value);
            found.push(
                finding.help(format!(
                    "say which is meant, as `{column}`, or give one of them another heading in the file"
                )),
            );
            None
        }
        (_, Some(nth)) => {
            let at = nth.checked_sub(1).and_then(|index| all.get(index)).copied();
            if at.is_none() {
                let columns = plural(all.len(), "column");
                let what =
                    format!("\"{}\" stands above {columns} of {file}, and number {nth} is wanted", heading.value);
                found.push(Finding::new(&COLUMN_UNKNOWN, heading.span, what).label("not so often in the file"));
            }
            at
        }
    }
}

fn no_column(heading: &At<String>, table: &RecordTable, headings: &[String]) -> Finding {
    let what = format!("{} has no column \"{}\"", table.file.value, heading.value);
    let finding = Finding::new(&COLUMN_UNKNOWN, heading.span, what).label("no such heading in the file");
    match nearest(&heading.value, headings.iter().map(String::as_str)) {
        Some(name) => finding.did_you_mean(name),
        None => finding,
    }
}

fn uneven(row: &[LaidCell<'_>], wanted: usize) -> Finding {
    let span = match (row.first(), row.last()) {
        (Some(first), Some(last)) => Span { end: last.span.end, ..first.span },
        _ => Span::NOWHERE,
    };
    let (cells, headings) = (plural(row.len(), "cell"), plural(wanted, "heading"));
    let what = format!("this row has {cells}, and there are {headings}");
    Finding::new(&ROW_UNEVEN, span, what).label("cells do not match the headings")
}
