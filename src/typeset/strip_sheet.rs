//! What the parts of a strip are drawn with.

use super::flags::Flag;
use super::pen::{Pen, Style};
use crate::compose::block::{Role, StripMark, Text};
use crate::ground::Length;
use crate::sheet::{Glyphs, HAIRLINE, Line, Mark, Point, ReadPlace};

// 8 pt figures are 1.94 mm high: the floor for what is dialled from a dense sheet.
pub(super) const DETAIL: Style = Style::regular(160, StripMark::DETAIL);
pub(super) const MEANING: Style = Style::regular(160, Role::Small);

/// Between a line and the words beside it.
pub(super) const GAP: Length = Length::hundredths_mm(80);
/// Where leaders lean to their risers.
pub(super) const ELBOW: Length = Length::hundredths_mm(400);
/// Between two risers, and between the words of neighbours.
pub(super) const APART: Length = Length::hundredths_mm(150);
/// Between two parts of the strip.
pub(super) const AIR: Length = Length::hundredths_mm(250);

/// The axis on paper.
#[derive(Clone, Copy)]
pub(super) struct Axis {
    pub low: i64,
    pub high: i64,
    pub left: Length,
    pub right: Length,
}

impl Axis {
    pub fn holds(&self, value: i64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Where a value stands; values past the ends stand at the ends.
    pub fn at(&self, value: i64) -> Length {
        let part = value.clamp(self.low, self.high) - self.low;
        self.left + (self.right - self.left).fraction(part, self.high - self.low)
    }
}

/// A style with no thin strokes, where that is asked for.
pub(super) fn cut(style: Style, is_heavy: bool) -> Style {
    Style { face: if is_heavy { style.face.heavier() } else { style.face }, ..style }
}

/// A strip while it is drawn, from the top down.
pub(super) struct StripSheet<'p> {
    pub pen: &'p Pen,
    pub is_heavy: bool,
    pub axis: Axis,
    pub marks: Vec<Mark>,
    /// The next free height.
    pub y: Length,
    /// What is read aloud together: the title, each flag, the scale, each lane.
    pub block: u32,
}

impl StripSheet<'_> {
    pub fn say(&mut self, glyphs: Vec<Glyphs>) {
        let place = ReadPlace { block: self.block, cell: None };
        self.marks.extend(glyphs.into_iter().map(|glyphs| Mark::Glyphs(Glyphs { place, ..glyphs })));
    }

    pub fn line(&self, text: &Text, style: Style, at: Point) -> Vec<Glyphs> {
        self.pen.line(text, cut(style, self.is_heavy), at)
    }

    pub fn width(&self, text: &Text, style: Style) -> Length {
        self.line(text, style, Point::default()).iter().map(|run| run.width).sum()
    }

    pub fn lean(&mut self, flag: &Flag, from: Length, at: Length, to: Length) {
        let (from, to) = (Point { x: flag.riser, y: from }, Point { x: at, y: to });
        self.marks.push(Mark::Line(Line { from, to, thickness: HAIRLINE, dash: None }));
    }
}

/// So many rows.
pub(super) fn rows(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
