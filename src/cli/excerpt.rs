//! A line of a plan file as the terminal shows it.

use crate::ground::{Files, Span, without_controls};
use std::ops::Range;

/// Longest line that is shown whole, in bytes; of a longer one only what stands around the guilty text is.
const WHOLE: usize = 400;

/// How much of a long line stands before and after the guilty text, and most of that text itself, in bytes.
const AROUND: usize = 60;
const MARKED: usize = 120;

/// A line made safe to show, and which bytes of it a span marks.
pub(super) struct ExcerptLine {
    pub file: String,
    pub number: usize,
    /// Where the span begins, where only a part of the line is shown.
    pub column: Option<usize>,
    pub text: String,
    pub marked: Range<usize>,
    /// Whether it is a row of a sheet: `file` then says its row and column as well.
    pub is_sheet: bool,
}

impl ExcerptLine {
    /// The line on which a span starts. A span of several lines is marked as far as its first goes.
    pub fn of(files: &Files, span: Span) -> Option<Self> {
        let (name, number, column) = files.place(span)?;
        let is_sheet = files.is_sheet(span);
        let named = if is_sheet { files.told(span)? } else { name.to_owned() };
        let file = files.get(span.file)?;
        let start = usize::try_from(span.start).ok()?.min(file.text.len());
        let line = file.line(start).1;
        let end = usize::try_from(span.end).ok()?.clamp(start, line.end.max(start));
        let is_cut = line.len() > WHOLE;
        let (shown, end) = if is_cut { window(&file.text, &line, start..end) } else { (line.clone(), end) };
        let parted = |text: &str| if is_sheet { text.replace('\t', " | ") } else { text.to_owned() };
        let safe = |from: usize, to: usize| file.text.get(from..to).map(|text| safe_excerpt(&parted(text)));
        let dots = |is_there: bool| if is_there { "..." } else { "" };
        let before = format!("{}{}", dots(shown.start > line.start), safe(shown.start, start)?);
        let marked = safe(start, end)?;
        let after = format!("{}{}", safe(end, shown.end)?, dots(shown.end < line.end));
        let range = before.len()..before.len() + marked.len();
        let column = is_cut.then_some(column);
        let text = before + &marked + &after;
        Some(Self { file: without_controls(&named), number, column, text, marked: range, is_sheet })
    }
}

/// What is shown of a long line, and where the mark ends in it.
fn window(text: &str, line: &Range<usize>, marked: Range<usize>) -> (Range<usize>, usize) {
    let down = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let end = down(marked.end.min(marked.start + MARKED)).max(marked.start);
    let from = down(marked.start.saturating_sub(AROUND)).max(line.start);
    (from..down((end + AROUND).min(line.end)).max(end), end)
}

/// Tabs become one space, so that columns still count characters; other control characters are replaced.
fn safe_excerpt(text: &str) -> String {
    without_controls(&text.replace('\t', " ").replace('\r', ""))
}

#[cfg(test)]
mod tests {
    use super::{AROUND, ExcerptLine, MARKED};
    use crate::ground::{Files, Span};

    #[test]
    fn of_a_long_line_only_what_stands_around_is_shown_with_its_own_column() {
        let mut files = Files::default();
        let id = files
            .add("a.toml", format!("x = 1\n{}\u{e4}guilty{}\ny = 2\n", "\u{e4}".repeat(5000), "b".repeat(900_000)));
        let start = 6 + 10_002;
        let line = ExcerptLine::of(&files, Span::new(id, start, start + 6)).unwrap();
        assert_eq!((line.number, line.column, &line.text[line.marked.clone()]), (2, Some(5002), "guilty"));
        assert!(line.text.starts_with("...\u{e4}") && line.text.ends_with("b..."), "{}", line.text);
        assert!(line.text.len() <= 6 + AROUND + 6 + AROUND, "{}", line.text.len());
        // A value that is long itself is cut as well.
        let line = ExcerptLine::of(&files, Span::new(id, start, start + 900_000)).unwrap();
        assert_eq!(line.marked.len(), MARKED);
    }

    #[test]
    fn a_line_of_usual_length_is_shown_whole() {
        let mut files = Files::default();
        let id = files.add("a.toml", "x = 1\r\n\ty = \"wrong\"\r\n");
        let line = ExcerptLine::of(&files, Span::new(id, 12, 19)).unwrap();
        assert_eq!((line.text.as_str(), line.marked, line.column), (" y = \"wrong\"", 5..12, None));
    }
}
