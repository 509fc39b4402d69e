//! The files of this run, so that a span can be shown as a line.

use super::caps::{PLAN_BYTES, PLAN_SIGNS};
use super::{FileId, Span};
use std::sync::Arc;
use std::sync::LazyLock;
use std::sync::OnceLock;

/// One file that was read: its name as the plan names it and its text.
#[derive(Clone, Debug, Default)]
pub struct File {
    /// Path from the plan's folder, with `/` between its parts.
    pub name: String,
    /// The whole text.
    pub text: Arc<str>,
    /// Where each line begins, once somebody asks: thousands of findings ask for their line.
    lines: OnceLock<Vec<usize>>,
    /// Characters before every [`STEP`]th byte, once somebody asks: they ask for their column as well, perhaps all on one long line.
    characters: OnceLock<Vec<usize>>,
    /// Its cells, where it is a table.
    grid: Option<CellGrid>,
}

/// The cells of a table: where each begins, and what stands above them.
#[derive(Clone, Debug, Default)]
pub struct CellGrid {
    /// First bytes of all cells, row after row.
    pub cells: Vec<u32>,
    /// For each row, the first of its cells.
    pub rows: Vec<u32>,
    /// The headings, in the order of the columns.
    pub headings: Vec<String>,
    /// Whether it is a sheet of a spreadsheet, whose line `n` is row `n` and whose columns are letters.
    pub is_sheet: bool,
}

impl CellGrid {
    /// The number of the column in which a byte stands, counted from none.
    fn column(&self, offset: u32) -> Option<usize> {
        let cell = self.cells.partition_point(|start| *start <= offset).checked_sub(1)?;
        let row = self.rows.partition_point(|first| usize::try_from(*first).is_ok_and(|first| first <= cell));
        cell.checked_sub(usize::try_from(*self.rows.get(row.checked_sub(1)?)?).ok()?)
    }
}

/// A column as spreadsheets letter them: A to Z, then AA.
#[must_use]
pub fn column_letters(number: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = number + 1;
    while rest > 0 {
        letters.push(char::from(b'A' + u8::try_from((rest - 1) % 26).unwrap_or(0)));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

/// Bytes between two places whose characters are counted beforehand.
const STEP: usize = 1024;

/// All files of this run.
#[derive(Clone, Debug, Default)]
pub struct Files {
    list: Vec<File>,
    bytes: u64,
    signs: u64,
    /// The number of the first.
    first: u32,
}

/// Whether a byte parts words, by its value: every byte of a plan is asked.
static IS_SIGN: LazyLock<Vec<bool>> =
    LazyLock::new(|| (0..=u8::MAX).map(|byte| byte.is_ascii_punctuation() || byte == b'\n').collect());

/// How many words and signs a text may fall into: each may become a value.
fn signs(text: &str) -> u64 {
    let (mut is_blank_before, signs) = (false, IS_SIGN.as_slice());
    let counts = text.bytes().filter(|byte| {
        let is_blank = matches!(byte, b' ' | b'\t');
        let counts = signs.get(usize::from(*byte)).is_some_and(|is_sign| *is_sign) || (is_blank && !is_blank_before);
        is_blank_before = is_blank;
        counts
    });
    u64::try_from(counts.count()).unwrap_or(u64::MAX)
}

impl Files {
    /// The program's own files, whose numbers no file of a run has: a place in one is never taken for a place in the other.
    #[must_use]
    pub fn of_program() -> Self {
        Self { first: FileId::OWN, ..Self::default() }
    }

    /// Adds a file and returns its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<Arc<str>>) -> FileId {
        let text: Arc<str> = text.into();
        self.bytes = self.bytes.saturating_add(u64::try_from(text.len()).unwrap_or(u64::MAX));
        self.signs = self.signs.saturating_add(signs(&text));
        self.list.push(File { name: name.into(), text, ..File::default() });
        FileId(u32::try_from(self.list.len() - 1).unwrap_or(u32::MAX).saturating_add(self.first).min(u32::MAX - 1))
    }

    /// Says where the cells of a file stand.
    pub fn lay(&mut self, id: FileId, grid: CellGrid) {
        let at = id.0.checked_sub(self.first).and_then(|at| usize::try_from(at).ok());
        if let Some(file) = at.and_then(|at| self.list.get_mut(at)) {
            file.grid = Some(grid);
        }
    }

    /// Why a text is too much beside those that are here; none where there is room for it.
    #[must_use]
    pub fn too_much(&self, text: &str) -> Option<String> {
        let bytes = self.bytes.saturating_add(u64::try_from(text.len()).unwrap_or(u64::MAX));
        let counts = [(&PLAN_BYTES, bytes), (&PLAN_SIGNS, self.signs.saturating_add(signs(text)))];
        let (cap, count) = counts.into_iter().find(|(cap, count)| !cap.takes(*count))?;
        Some(format!("with it there are {count} {}, and {} are taken", cap.of, cap.most))
    }

    /// The file of this number; none for [`Span::NOWHERE`].
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&File> {
        self.list.get(usize::try_from(id.0.checked_sub(self.first)?).ok()?)
    }

    /// All files in the order in which they were read.
    pub fn iter(&self) -> impl Iterator<Item = &File> {
        self.list.iter()
    }

    /// Name, line and column of a span's first character, both counted from one; columns count characters, and cells in a sheet of a
    /// spreadsheet.
    #[must_use]
    pub fn place(&self, span: Span) -> Option<(&str, usize, usize)> {
        let file = self.get(span.file)?;
        let (line, column) = line_and_column(file, usize::try_from(span.start).ok()?);
        let cell = file.grid.as_ref().filter(|grid| grid.is_sheet).and_then(|grid| grid.column(span.start));
        Some((&file.name, line, cell.map_or(column, |cell| cell + 1)))
    }

    /// The column of a table in which a span stands, with its heading: `column F (RX)`. None in a file that is no table.
    #[must_use]
    pub fn column(&self, span: Span) -> Option<String> {
        let grid = self.get(span.file)?.grid.as_ref()?;
        let column = grid.column(span.start)?;
        let heading = grid.headings.get(column).filter(|heading| !heading.is_empty());
        Some(format!(
            "column {}{}",
            column_letters(column),
            heading.map_or_else(String::new, |text| format!(" ({text})"))
        ))
    }

    /// Whether a span stands in a sheet of a spreadsheet, where nothing can be typed for the user.
    #[must_use]
    pub fn is_sheet(&self, span: Span) -> bool {
        self.get(span.file).and_then(|file| file.grid.as_ref()).is_some_and(|grid| grid.is_sheet)
    }

    /// The place of a span in words: `channels.toml:33:11`, or `plan.xlsx, sheet Channels, row 12, column F (RX)`.
    #[must_use]
    pub fn told(&self, span: Span) -> Option<String> {
        let (name, line, column) = self.place(span)?;
        Some(match self.column(span).filter(|_| self.is_sheet(span)) {
            Some(cell) => format!("{name}, row {line}, {cell}"),
            None => format!("{name}:{line}:{column}"),
        })
    }

    /// Line and column just after a span's last character, both counted from one; in a sheet those of its first.
    #[must_use]
    pub fn end_place(&self, span: Span) -> Option<(usize, usize)> {
        if self.is_sheet(span) {
            return self.place(span).map(|(_, row, column)| (row, column));
        }
        let file = self.get(span.file)?;
        Some(line_and_column(file, usize::try_from(span.end).ok()?))
    }

    /// The text of a span.
    #[must_use]
    pub fn text(&self, span: Span) -> Option<&str> {
        let range = usize::try_from(span.start).ok()?..usize::try_from(span.end).ok()?;
        self.get(span.file)?.text.get(range)
    }
}

/// How many characters begin in these bytes of a text.
fn begun(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count()
}

impl File {
    /// The line on which a byte stands, counted from none, and its range without the end of the line.
    #[must_use]
    pub fn line(&self, offset: usize) -> (usize, std::ops::Range<usize>) {
        let lines = self.lines();
        let line = lines.partition_point(|start| *start <= offset).saturating_sub(1);
        let start = lines.get(line).copied().unwrap_or(0);
        let end = lines.get(line + 1).map_or(self.text.len(), |next| next - 1);
        (line, start..end)
    }

    /// Whether it is a table.
    #[must_use]
    pub const fn is_table(&self) -> bool {
        self.grid.is_some()
    }

    fn lines(&self) -> &[usize] {
        let ends = || self.text.match_indices('\n').map(|(at, _)| at + 1);
        self.lines.get_or_init(|| std::iter::once(0).chain(ends()).collect())
    }

    fn characters(&self) -> &[usize] {
        self.characters.get_or_init(|| {
            let mut counted = 0;
            let counts = self.text.as_bytes().chunks(STEP).map(|chunk| {
                counted += begun(chunk);
                counted
            });
            std::iter::once(0).chain(counts).collect()
        })
    }

    fn characters_before(&self, offset: usize) -> usize {
        let step = offset / STEP;
        let rest = self.text.as_bytes().get(step * STEP..offset).unwrap_or_default();
        self.characters().get(step).copied().unwrap_or_default() + begun(rest)
    }
}

fn line_and_column(file: &File, offset: usize) -> (usize, usize) {
    let text = &file.text;
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let (line, range) = file.line(offset);
    (line + 1, file.characters_before(offset) - file.characters_before(range.start) + 1)
}

#[cfg(test)]
mod tests {
    use super::{CellGrid, Files, STEP, column_letters};
    use crate::ground::{FileId, Span};

    #[test]
    fn a_place_in_a_file_of_the_program_is_none_in_a_file_of_the_plan() {
        let (mut own, mut plan) = (Files::of_program(), Files::default());
        let (of_own, of_plan) = (own.add("own.toml", "a = 1"), plan.add("plan.toml", "b = 2"));
        let span = |file| Span::new(file, 0, 1);
        assert_eq!((own.text(span(of_own)), own.text(span(of_plan))), (Some("a"), None));
        assert_eq!((plan.text(span(of_plan)), plan.text(span(of_own))), (Some("b"), None));
    }

    #[test]
    fn a_place_in_a_sheet_is_a_row_and_a_lettered_column_with_its_heading() {
        let mut files = Files::default();
        let id = files.add("p.xlsx, sheet A", "Name\tRX\nTac 1\t146.5\n\n\t7\n");
        let (headings, is_sheet) = (vec!["Name".to_owned(), "RX".to_owned()], true);
        files.lay(id, CellGrid { cells: vec![0, 5, 8, 14, 21, 22], rows: vec![0, 2, 4, 4], headings, is_sheet });
        let told = |start: usize| files.told(Span::new(id, start, start + 1)).unwrap();
        assert_eq!(told(8), "p.xlsx, sheet A, row 2, column A (Name)");
        assert_eq!(told(16), "p.xlsx, sheet A, row 2, column B (RX)");
        assert_eq!(told(22), "p.xlsx, sheet A, row 4, column B (RX)");
        assert_eq!(files.place(Span::new(id, 22, 23)), Some(("p.xlsx, sheet A", 4, 2)));
        assert_eq!([0, 25, 26, 701, 702].map(column_letters), ["A", "Z", "AA", "ZZ", "AAA"]);
    }

    #[test]
    fn lines_and_columns_count_characters_wherever_the_steps_lie() {
        let text = format!("a\n{}\nz{}", "\u{e4}b".repeat(STEP), "\u{1f4fb}".repeat(STEP / 2));
        let mut files = Files::default();
        let id = files.add("a.toml", text.as_str());
        let (mut line, mut column) = (1, 1);
        for (at, character) in text.char_indices().chain([(text.len(), ' ')]) {
            let span = Span::new(id, at, at);
            assert_eq!(files.place(span), Some(("a.toml", line, column)), "byte {at}");
            (line, column) = if character == '\n' { (line + 1, 1) } else { (line, column + 1) };
        }
        files.add("empty.toml", "");
        assert_eq!(files.place(Span::new(FileId(1), 0, 0)), Some(("empty.toml", 1, 1)));
    }
}
