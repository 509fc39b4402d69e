//! Single lines of words for charts, forms and symbols: measured first, placed second.

use super::pairs;
use super::shaping::shape;
use crate::compose::block::{Role, Run, Text};
use crate::ground::{Length, Span};
use crate::sheet::{Area, Face, Glyph, Glyphs, Mark, Point, ReadPlace, Slope, across, down};
use std::sync::{Arc, Mutex, PoisonError};

/// Frames and rules that open or close something.
pub(super) const RULE: Length = Length::twentieths_pt(10);

/// Cut, size and role of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Style {
    /// The cut.
    pub face: Face,
    /// Type size.
    pub size: Length,
    /// What the text is.
    pub role: Role,
}

impl Style {
    /// Everyday words.
    pub const fn regular(twentieths_pt: i64, role: Role) -> Self {
        Self { face: Face::Regular, size: Length::twentieths_pt(twentieths_pt), role }
    }

    /// What one reads first of its size.
    pub const fn medium(twentieths_pt: i64, role: Role) -> Self {
        Self { face: Face::Medium, size: Length::twentieths_pt(twentieths_pt), role }
    }

    /// Names, titles and warnings.
    pub const fn bold(twentieths_pt: i64, role: Role) -> Self {
        Self { face: Face::Bold, size: Length::twentieths_pt(twentieths_pt), role }
    }

    /// That of a run: bold where it is strong.
    pub fn of(self, run: &Run) -> Self {
        Self { face: if run.is_strong { Face::Bold } else { self.face }, ..self }
    }

    /// Height of a capital of the typeface: 689 units of 1000, read from its OS/2 table.
    pub fn capital(self) -> Length {
        self.size.fraction(689, 1000)
    }

    /// Room below the baseline for the tails of letters: `g` reaches 207 units.
    pub fn tail(self) -> Length {
        self.size.fraction(210, 1000)
    }
}

/// Shapes text with kerning, tabular figures and a slashed zero. Words that are measured and then set are shaped once; each thread
/// knows those that it has shaped.
pub struct Pen {
    shaped: Vec<Mutex<Shaped>>,
}

impl Default for Pen {
    fn default() -> Self {
        Self { shaped: (0..rayon::current_num_threads().max(1)).map(|_| Mutex::default()).collect() }
    }
}

/// What each cut makes of a text.
#[derive(Default)]
struct Shaped {
    known: Known,
    glyphs: usize,
}

#[expect(clippy::disallowed_types, reason = "asked by its keys alone, so its order reaches no page")]
type Known = std::collections::HashMap<Face, std::collections::HashMap<Arc<str>, Arc<[Glyph]>>>;

/// A text with its glyphs: every mark that says it has the same.
type Written = (Arc<str>, Arc<[Glyph]>);

/// How many glyphs are remembered: those of the words that a team's sheets have in common, not those of every line of a long one.
const REMEMBERED: usize = 1 << 17;

impl Shaped {
    fn of(&mut self, text: &str, face: Face) -> Written {
        if let Some((text, glyphs)) = self.known.get(&face).and_then(|known| known.get_key_value(text)) {
            return (Arc::clone(text), Arc::clone(glyphs));
        }
        let glyphs: Arc<[Glyph]> = pairs::glyphs(text, face).unwrap_or_else(|| shape(text, face)).into();
        if self.glyphs + glyphs.len() > REMEMBERED {
            *self = Self::default();
        }
        self.glyphs += glyphs.len();
        let text: Arc<str> = text.into();
        self.known.entry(face).or_default().insert(Arc::clone(&text), Arc::clone(&glyphs));
        (text, glyphs)
    }
}

impl Pen {
    /// A pen for all cuts.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn written(&self, text: &str, face: Face) -> Written {
        match self.shaped.get(rayon::current_thread_index().unwrap_or(0)) {
            Some(shaped) => shaped.lock().unwrap_or_else(PoisonError::into_inner).of(text, face),
            None => Shaped::default().of(text, face),
        }
    }

    /// A run with its baseline starting at `at`.
    pub(super) fn write(&self, text: &str, style: Style, span: Span, at: Point) -> Glyphs {
        let (text, glyphs) = self.written(text, style.face);
        Glyphs {
            at,
            face: style.face,
            size: style.size,
            role: style.role,
            text,
            span,
            width: style.size.fraction(units(&glyphs), 1000),
            glyphs,
            place: ReadPlace::default(),
            slope: Slope::Level,
        }
    }

    /// How wide a text is.
    pub(super) fn width(&self, text: &str, style: Style) -> Length {
        // What is measured and never set is not remembered where the table knows it.
        let units = pairs::width(text, style.face).unwrap_or_else(|| units(&self.written(text, style.face).1));
        style.size.fraction(units, 1000)
    }

    /// How wide a text is on one line, its strong runs bold.
    pub(super) fn line_width(&self, text: &Text, style: Style) -> Length {
        text.runs.iter().map(|run| self.width(&run.text, style.of(run))).sum()
    }

    /// A text on one line, its strong runs bold.
    pub(super) fn line(&self, text: &Text, style: Style, at: Point) -> Vec<Glyphs> {
        let mut pen = at;
        let mut line = Vec::new();
        for run in text.runs.iter().filter(|run| !run.text.is_empty()) {
            let glyphs = self.write(&run.text, style.of(run), text.span, pen);
            pen.x += glyphs.width;
            line.push(glyphs);
        }
        line
    }
}

fn units(glyphs: &[Glyph]) -> i64 {
    glyphs.iter().map(|glyph| i64::from(glyph.advance)).sum()
}

/// Four lines around an area, their corners closed.
pub(super) fn frame(area: Area, thickness: Length) -> [Mark; 4] {
    let half = thickness / 2;
    [
        across(area.left - half, area.right + half, area.top, thickness),
        across(area.left - half, area.right + half, area.bottom, thickness),
        down(area.left, area.top, area.bottom, thickness),
        down(area.right, area.top, area.bottom, thickness),
    ]
}
