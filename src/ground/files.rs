//! The files of this run, so that a span can be shown as a line.

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
}

/// All files of this run.
#[derive(Clone, Debug, Default)]
pub struct Files {
    list: Vec<File>,
}

impl Files {
    /// Adds a file and returns its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let text: String = text.into();
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        self.list.push(File { name: name.into(), text, lines });
        FileId(u32::try_from(self.list.len() - 1).unwrap_or(u32::MAX - 1))
    }

    /// The file of this number; none for [`Span::NOWHERE`].
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&File> {
        self.list.get(usize::try_from(id.0).ok()?)
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

fn line_and_column(file: &File, offset: usize) -> (usize, usize) {
    let text = &file.text;
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let line = file.lines.partition_point(|start| *start <= offset).max(1);
    let line_start = file.lines.get(line - 1).copied().unwrap_or(0);
    let column = text.get(line_start..offset).unwrap_or("").chars().count() + 1;
    (line, column)
}
