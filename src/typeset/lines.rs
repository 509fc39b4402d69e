//! Text with its strong runs, broken into lines.

use super::pen::{Pen, Style};
use super::setting::Setting;
use crate::compose::block::Text;
use crate::compose::is_held;
use crate::ground::{Length, Span};
use crate::sheet::{Glyphs, Mark, Point};
use std::borrow::Cow;
use std::ops::Range;
use unicode_linebreak::linebreaks;

/// One line: stretches of one emphasis, and their width together.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct TextLine {
    runs: Vec<(String, Style)>,
    span: Span,
    /// From the first to the last letter.
    pub width: Length,
}

impl TextLine {
    /// Size of its text; zero for a line without words.
    pub fn size(&self) -> Length {
        self.runs.first().map_or(Length::ZERO, |(_, style)| style.size)
    }

    /// What it says.
    pub fn words(&self) -> String {
        self.runs.iter().map(|(words, _)| words.as_str()).collect()
    }

    /// The line with its baseline starting at `at`.
    pub fn place(&self, pen: &Pen, at: Point) -> Vec<Glyphs> {
        let mut x = at.x;
        let mut line = Vec::new();
        for (words, style) in &self.runs {
            let glyphs = pen.write(words, *style, self.span, Point { x, y: at.y });
            x += glyphs.width;
            line.push(glyphs);
        }
        line
    }
}

/// From one baseline to the next, for text of a size: 1.18 of it, the least at which lines do not touch.
pub(super) fn leading(size: Length) -> Length {
    size.fraction(118, 100)
}

/// Characters on a line of running text: the eye finds the next line.
const MOST_CHARACTERS: usize = 90;

/// A text in lines of at most `width`, and no longer than the eye follows. None when a single word is wider.
pub(super) fn broken(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<Vec<TextLine>> {
    let words = text.words();
    let measured = |from: usize, to: usize| line(pen, text, &words, style, from..to);
    let is_long = |from: usize, to: usize| {
        words.get(from..to).is_some_and(|line| line.trim_end().chars().count() > MOST_CHARACTERS)
    };
    let mut lines: Vec<TextLine> = Vec::new();
    let (mut start, mut end) = (0, 0);
    for at in breaks(&words) {
        if end > start && (line_width(pen, text, &words, style, start..at) > width || is_long(start, at)) {
            lines.push(measured(start, end));
            start = end;
        }
        end = at;
    }
    if end > start {
        lines.push(measured(start, end));
    }
    lines.retain(|line| !line.runs.is_empty());
    lines.iter().all(|line| line.width <= width).then_some(lines)
}

/// Running text: its last line is no word or two alone.
pub(super) fn running(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<Vec<TextLine>> {
    broken(pen, text, style, width).map(|lines| balanced(pen, text, style, lines))
}

/// A last line shorter than this part of the longest leaves its words alone.
const ALONE: (i64, i64) = (1, 3);

/// As many lines of a narrower width where the last one would be a word or two: found by halving.
fn balanced(pen: &Pen, text: &Text, style: Style, lines: Vec<TextLine>) -> Vec<TextLine> {
    let longest = lines.iter().map(|line| line.width).fold(Length::ZERO, Length::max);
    let is_alone =
        |lines: &[TextLine]| lines.last().is_some_and(|last| last.width < longest.fraction(ALONE.0, ALONE.1));
    if lines.len() < 2 || lines.len() > MOST_BALANCED || !is_alone(&lines) {
        return lines;
    }
    let (mut low, mut high) = (Length::ZERO, longest);
    let mut best = lines;
    while high - low > Length::mm(1) {
        let middle = (low + high) / 2;
        match broken(pen, text, style, middle).filter(|narrow| narrow.len() <= best.len()) {
            Some(narrow) => (best, high) = (narrow, middle),
            None => low = middle,
        }
    }
    best
}

/// Of more lines than this the last may be short: nobody sees them as one shape.
const MOST_BALANCED: usize = 5;

/// A range of the bytes of a text, whose words these are, on one line, without the space at their end.
fn line(pen: &Pen, text: &Text, words: &str, style: Style, bytes: Range<usize>) -> TextLine {
    let runs = runs(text, words, style, bytes).map(|(words, style)| (words.into_owned(), style)).collect::<Vec<_>>();
    let width = runs.iter().map(|(words, style)| pen.width(words, *style)).sum();
    TextLine { runs, span: text.span, width }
}

/// How wide that line is.
fn line_width(pen: &Pen, text: &Text, words: &str, style: Style, bytes: Range<usize>) -> Length {
    runs(text, words, style, bytes).map(|(words, style)| pen.width(&words, style)).sum()
}

/// The stretches of that line.
fn runs<'a>(
    text: &'a Text,
    words: &'a str,
    style: Style,
    Range { start: from, end: to }: Range<usize>,
) -> impl Iterator<Item = (Cow<'a, str>, Style)> {
    let to = from + words.get(from..to).unwrap_or_default().trim_end().len();
    let mut run_start = 0;
    text.runs.iter().filter_map(move |run| {
        let run_end = run_start + run.text.len();
        let (low, high) = (from.max(run_start), to.min(run_end));
        run_start = run_end;
        if low >= high {
            return None;
        }
        let face = if run.is_strong { crate::sheet::Face::Bold } else { style.face };
        let words = words.get(low..high).unwrap_or_default();
        // A space that held two words together is a space like any other once the line is made.
        let words = if words.contains('\u{a0}') { words.replace('\u{a0}', " ").into() } else { Cow::Borrowed(words) };
        Some((words, Style { face, ..style }))
    })
}

/// A long paragraph stands in columns side by side where there is room for them: from so many lines on, in columns of so many
/// characters at least, of which the typeface sets 100 on 27.5 em.
const LONG: usize = 4;
const LEAST_CHARACTERS: i64 = 60;
const MOST_COLUMNS: i64 = 3;
/// Columns lower than this are skipped over by the eye, as is a last one of a word or two.
const LEAST_LINES: usize = 2;
const GUTTER: Length = Length::mm(7);

/// The lines of a paragraph, and the columns that they stand in.
struct InColumns {
    lines: Vec<TextLine>,
    count: usize,
    /// From one column to the next.
    step: Length,
}

fn in_columns(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<InColumns> {
    let lines = running(pen, text, style, width)?;
    let least = style.size.fraction(LEAST_CHARACTERS * 275, 1000);
    let count = ((width + GUTTER).as_grains() / (least + GUTTER).as_grains().max(1)).clamp(1, MOST_COLUMNS);
    if lines.len() < LONG || count == 1 {
        return Some(InColumns { lines, count: 1, step: width });
    }
    for count in (2..=count).rev() {
        let narrow = (width - GUTTER * (count - 1)) / count;
        let (lines, count) = (broken(pen, text, style, narrow)?, usize::try_from(count).ok()?);
        let each = lines.len().div_ceil(count);
        let last = lines.len().saturating_sub(each * (count - 1));
        if each >= LEAST_LINES && last * 2 > each {
            return Some(InColumns { lines, count, step: narrow + GUTTER });
        }
    }
    Some(InColumns { lines, count: 1, step: width })
}

/// Lines side by side, as many in each column but the last.
fn side_by_side(pen: &Pen, lines: &[TextLine], style: Style, (count, step): (usize, Length)) -> Setting {
    let each = lines.len().div_ceil(count).max(1);
    let mut setting = Setting::default();
    for (lines, place) in lines.chunks(each).zip(0..) {
        let column = column(pen, lines, style, step * place);
        setting.marks.extend(column.marks);
        setting.height = setting.height.max(column.height);
    }
    setting
}

/// A paragraph, its lines no longer than the eye follows. None when a word is wider than the width.
pub(crate) fn paragraph(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<Setting> {
    let InColumns { lines, count, step } = in_columns(pen, text, style, width)?;
    Some(side_by_side(pen, &lines, style, (count, step)))
}

/// A paragraph in parts that are not higher than `most`, each in columns like the whole.
pub(super) fn parted(pen: &Pen, text: &Text, style: Style, (width, most): (Length, Length)) -> Option<Vec<Setting>> {
    let InColumns { lines, count, step } = in_columns(pen, text, style, width)?;
    let each = most.as_grains() / leading(style.size).as_grains().max(1);
    let each = usize::try_from(each).unwrap_or(1).max(1);
    Some(lines.chunks(each * count).map(|lines| side_by_side(pen, lines, style, (count, step))).collect())
}

/// Lines one below the other.
fn column(pen: &Pen, lines: &[TextLine], style: Style, x: Length) -> Setting {
    let mut setting = Setting::default();
    for line in lines {
        let baseline = setting.height + style.capital() + (leading(style.size) - style.size.fraction(9, 10)) / 2;
        setting.marks.extend(line.place(pen, Point { x, y: baseline }).into_iter().map(Mark::Glyphs));
        setting.height += leading(style.size);
    }
    setting
}

/// The pieces of a text between which a line may be broken, without their spaces.
pub(super) fn pieces(text: &str) -> Vec<&str> {
    let mut from = 0;
    let piece = |to| {
        let piece = text.get(from..to).unwrap_or_default().trim_end();
        from = to;
        piece
    };
    breaks(text).map(piece).collect()
}

/// Where a line may end (Unicode UAX 14), but not inside a word such as X-ray, nor inside what is read as one.
fn breaks(text: &str) -> impl Iterator<Item = usize> + '_ {
    let is_single = |at: &usize| {
        let mut before = text.get(..*at).unwrap_or_default().chars().rev();
        before.next() == Some('-') && before.next().is_some() && before.next().is_none_or(char::is_whitespace)
    };
    linebreaks(text).map(|(at, _)| at).filter(move |at| !is_single(at) && !is_held(text, *at))
}

#[cfg(test)]
mod tests {
    use super::pieces;

    #[test]
    fn a_number_keeps_its_unit_and_nothing_else_is_held() {
        assert_eq!(
            pieces("25 W and then 1 min FM ±5 kHz, 2 min: X-ray"),
            ["25 W", "and", "then", "1 min", "FM", "±5 kHz,", "2 min:", "X-ray"]
        );
        assert_eq!(
            pieces("on TAC 1, CALL 70. HF 146.5 or Net 1 at ALDER 2026"),
            ["on", "TAC 1,", "CALL 70.", "HF", "146.5", "or", "Net", "1", "at", "ALDER", "2026"]
        );
        assert_eq!(pieces("see 47 CFR 97.119 now"), ["see", "47 CFR 97.119", "now"]);
        assert_eq!(pieces("channels 1 and 2 with 30 people"), ["channels", "1", "and", "2", "with", "30", "people"]);
    }
}
