//! Text with its strong runs, broken into lines.

use super::pairs::{Advances, advances};
use super::pen::{Pen, Style};
use super::setting::Setting;
use crate::compose::block::{self, Text};
use crate::compose::is_held;
use crate::ground::{Length, Span};
use crate::sheet::{Glyphs, Mark, Point};
use std::borrow::Cow;
use std::cell::OnceCell;
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
    let breaking = Breaking::of(pen, text, style);
    breaking.within(width).map(|lines| breaking.set(&lines))
}

/// Running text: its last line is no word or two alone.
pub(super) fn running(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<Vec<TextLine>> {
    let breaking = Breaking::of(pen, text, style);
    breaking.balanced(width).map(|lines| breaking.set(&lines))
}

/// A text that is to be broken into lines: where it may be, and how wide every part of it is, found once for all widths that are tried.
struct Breaking<'a> {
    pen: &'a Pen,
    text: &'a Text,
    words: String,
    /// Where a line may end, by bytes: most texts stand on one line, and nobody asks.
    ends: OnceCell<Vec<usize>>,
    runs: Vec<MeasuredRun>,
}

/// A stretch of one emphasis.
struct MeasuredRun {
    bytes: Range<usize>,
    style: Style,
    /// How wide it is, for every line on which it stands as a whole.
    whole: OnceCell<Length>,
    /// How wide its parts are: of one that stands on a line as a whole nobody asks.
    advances: OnceCell<Advances>,
}

/// The bytes of a line without the space at its end, and its width.
struct Broken {
    bytes: Range<usize>,
    width: Length,
}

impl<'a> Breaking<'a> {
    fn of(pen: &'a Pen, text: &'a Text, style: Style) -> Self {
        let words = text.words();
        let mut from = 0;
        let run = |run: &block::Run| {
            let bytes = from..from + run.text.len();
            from = bytes.end;
            MeasuredRun { bytes, style: style.of(run), whole: OnceCell::new(), advances: OnceCell::new() }
        };
        let runs = text.runs.iter().map(run).collect();
        Self { pen, text, words, ends: OnceCell::new(), runs }
    }

    /// Lines of at most so much. None when a single word is wider.
    fn within(&self, width: Length) -> Option<Vec<Broken>> {
        let whole = 0..self.words.len();
        if !self.is_too_much(whole.clone(), width) {
            return Some(Some(self.line(whole)).filter(|line| !line.bytes.is_empty()).into_iter().collect());
        }
        let mut lines: Vec<Broken> = Vec::new();
        let (mut start, mut end) = (0, 0);
        for at in self.ends.get_or_init(|| breaks(&self.words).collect()) {
            if end > start && self.is_too_much(start..*at, width) {
                lines.push(self.line(start..end));
                start = end;
            }
            end = *at;
        }
        if end > start {
            lines.push(self.line(start..end));
        }
        lines.retain(|line| !line.bytes.is_empty());
        lines.iter().all(|line| line.width <= width).then_some(lines)
    }

    fn is_too_much(&self, bytes: Range<usize>, width: Length) -> bool {
        let Broken { bytes, width: own } = self.line(bytes);
        // Letters are bytes at least.
        let is_long = || self.words.get(bytes.clone()).is_some_and(|line| line.chars().count() > MOST_CHARACTERS);
        own > width || (bytes.len() > MOST_CHARACTERS && is_long())
    }

    /// A range of bytes on one line, without the space at its end.
    fn line(&self, bytes: Range<usize>) -> Broken {
        let words = self.words.get(bytes.clone()).unwrap_or_default();
        let bytes = bytes.start..bytes.start + words.trim_end().len();
        let width = self.runs.iter().map(|run| self.width(run, &bytes)).sum();
        Broken { bytes, width }
    }

    /// How wide a range of bytes is, as far as it lies in a run.
    fn width(&self, run: &MeasuredRun, bytes: &Range<usize>) -> Length {
        let (low, high) = (bytes.start.max(run.bytes.start), bytes.end.min(run.bytes.end));
        if low >= high {
            return Length::ZERO;
        }
        let words = |bytes: Range<usize>| self.words.get(bytes).unwrap_or_default();
        let asked = || self.pen.width(&spaced(words(low..high)), run.style);
        if (low..high) == run.bytes {
            return *run.whole.get_or_init(asked);
        }
        let parts = run.advances.get_or_init(|| advances(words(run.bytes.clone()), run.style.face));
        let units = parts.width(low - run.bytes.start, high - run.bytes.start);
        units.map_or_else(asked, |units| run.style.size.fraction(units, 1000))
    }

    /// As many lines of a narrower width where the last one would be a word or two: found by halving.
    fn balanced(&self, width: Length) -> Option<Vec<Broken>> {
        let mut best = self.within(width)?;
        let longest = best.iter().map(|line| line.width).fold(Length::ZERO, Length::max);
        let is_alone = best.last().is_some_and(|last| last.width < longest.fraction(ALONE.0, ALONE.1));
        if best.len() < 2 || best.len() > MOST_BALANCED || !is_alone {
            return Some(best);
        }
        let (mut low, mut high) = (Length::ZERO, longest);
        while high - low > Length::mm(1) {
            let middle = (low + high) / 2;
            match self.within(middle).filter(|narrow| narrow.len() <= best.len()) {
                Some(narrow) => (best, high) = (narrow, middle),
                None => low = middle,
            }
        }
        Some(best)
    }

    fn set(&self, lines: &[Broken]) -> Vec<TextLine> {
        let run = |run: &MeasuredRun, bytes: &Range<usize>| {
            let (low, high) = (bytes.start.max(run.bytes.start), bytes.end.min(run.bytes.end));
            let words = self.words.get(low..high).filter(|words| !words.is_empty())?;
            Some((spaced(words).into_owned(), run.style))
        };
        let line = |Broken { bytes, width }: &Broken| TextLine {
            runs: self.runs.iter().filter_map(|own| run(own, bytes)).collect(),
            span: self.text.span,
            width: *width,
        };
        lines.iter().map(line).collect()
    }
}

/// A last line shorter than this part of the longest leaves its words alone.
const ALONE: (i64, i64) = (1, 3);

/// Of more lines than this the last may be short: nobody sees them as one shape.
const MOST_BALANCED: usize = 5;

/// A space that held two words together is a space like any other once the line is made.
fn spaced(words: &str) -> Cow<'_, str> {
    if words.contains('\u{a0}') { words.replace('\u{a0}', " ").into() } else { Cow::Borrowed(words) }
}

/// A long paragraph stands in columns side by side where there is room for them: from so many lines on, in columns of so many
/// characters at least, of which the typeface sets 100 on 27.5 em.
const LONG: usize = 4;
const LEAST_CHARACTERS: i64 = 60;
const MOST_COLUMNS: i64 = 3;
/// Columns lower than this are skipped over by the eye, as is a last one of a word or two.
const LEAST_LINES: usize = 2;
const GUTTER: Length = Length::mm(7);

/// The least width of a column of text beside others.
pub(super) fn least_column(style: Style) -> Length {
    style.size.fraction(LEAST_CHARACTERS * 275, 1000)
}

/// The lines of a paragraph, and the columns that they stand in.
struct InColumns {
    lines: Vec<TextLine>,
    count: usize,
    /// From one column to the next.
    step: Length,
}

fn in_columns(pen: &Pen, text: &Text, style: Style, width: Length) -> Option<InColumns> {
    let breaking = Breaking::of(pen, text, style);
    let lines = breaking.balanced(width)?;
    let least = least_column(style);
    let most = ((width + GUTTER).as_grains() / (least + GUTTER).as_grains().max(1)).clamp(1, MOST_COLUMNS);
    if lines.len() >= LONG {
        for count in (2..=most).rev() {
            let narrow = (width - GUTTER * (count - 1)) / count;
            let (lines, count) = (breaking.within(narrow)?, usize::try_from(count).ok()?);
            let each = lines.len().div_ceil(count);
            let last = lines.len().saturating_sub(each * (count - 1));
            if each >= LEAST_LINES && last * 2 > each {
                return Some(InColumns { lines: breaking.set(&lines), count, step: narrow + GUTTER });
            }
        }
    }
    Some(InColumns { lines: breaking.set(&lines), count: 1, step: width })
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
    let is_inside = move |at: &usize| *at < text.len() && (is_single(at) || is_held(text, *at));
    linebreaks(text).map(|(at, _)| at).filter(move |at| !is_inside(at))
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
        assert_eq!(pieces("of class A-"), ["of", "class", "A-"], "what ends a text is not lost");
        assert_eq!(pieces("channels 1 and 2 with 30 people"), ["channels", "1", "and", "2", "with", "30", "people"]);
    }
}
