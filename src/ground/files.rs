//! The files of this run, so that a span can be shown as a line.

use super::caps::{PLAN_BYTES, PLAN_SIGNS};
use super::{FileId, Span};

/// One file that was read: its name as the plan names it and its text.
#[derive(Clone, Debug, Default)]
pub struct File {
    /// Path from the plan's folder, with `/` between its parts.
    pub name: String,
    /// The whole text.
    pub text: String,
    /// Where each line begins: thousands of findings ask for their line.
    lines: Vec<usize>,
    /// Characters before every [`STEP`]th byte: they ask for their column as well, perhaps all on one long line.
    characters: Vec<usize>,
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

/// How many words and signs a text may fall into: each may become a value.
fn signs(text: &str) -> u64 {
    let mut is_blank_before = false;
    let counts = text.bytes().filter(|byte| {
        let is_blank = matches!(byte, b' ' | b'\t');
        let counts = byte.is_ascii_punctuation() || *byte == b'\n' || (is_blank && !is_blank_before);
        is_blank_before = is_blank;
        counts
    });
    u64::try_from(counts.count()).unwrap_or(u64::MAX)
}

impl Files {
    /// The program's own files, whose numbers no file of a run has: a place in one is never taken for a place in the other.
    #[must_use]
    pub fn of_program() -> Self {
        Self { first: 1 << 31, ..Self::default() }
    }

    /// Adds a file and returns its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let text: String = text.into();
        self.bytes = self.bytes.saturating_add(u64::try_from(text.len()).unwrap_or(u64::MAX));
        self.signs = self.signs.saturating_add(signs(&text));
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let mut counted = 0;
        let counts = text.as_bytes().chunks(STEP).map(|chunk| {
            counted += begun(chunk);
            counted
        });
        let characters = std::iter::once(0).chain(counts).collect();
        self.list.push(File { name: name.into(), text, lines, characters });
        FileId(u32::try_from(self.list.len() - 1).unwrap_or(u32::MAX).saturating_add(self.first).min(u32::MAX - 1))
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

    /// Name, line and column of a span's first character, both counted from one; columns count characters.
    #[must_use]
    pub fn place(&self, span: Span) -> Option<(&str, usize, usize)> {
        let file = self.get(span.file)?;
        let (line, column) = line_and_column(file, usize::try_from(span.start).ok()?);
        Some((&file.name, line, column))
    }

    /// Line and column just after a span's last character, both counted from one.
    #[must_use]
    pub fn end_place(&self, span: Span) -> Option<(usize, usize)> {
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
        let line = self.lines.partition_point(|start| *start <= offset).saturating_sub(1);
        let start = self.lines.get(line).copied().unwrap_or(0);
        let end = self.lines.get(line + 1).map_or(self.text.len(), |next| next - 1);
        (line, start..end)
    }

    fn characters_before(&self, offset: usize) -> usize {
        let step = offset / STEP;
        let rest = self.text.as_bytes().get(step * STEP..offset).unwrap_or_default();
        self.characters.get(step).copied().unwrap_or_default() + begun(rest)
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
    use super::{Files, STEP};
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
