//! What the parts of a strip are drawn with.

use super::pen::Pen;
use super::strip_form::{BREAK, StripForm};
use crate::compose::block::{Strip, StripGap, StripScale};
use crate::ground::Length;
use crate::sheet::{Area, Glyphs, Line, Mark, Point, ReadPlace};

/// The axis on paper.
pub(super) struct Axis<'a> {
    pub low: i64,
    pub high: i64,
    pub left: Length,
    pub right: Length,
    gaps: &'a [StripGap],
    /// What the length between the breaks stands for, and that length.
    values: i64,
    length: Length,
}

impl<'a> Axis<'a> {
    /// The axis of a strip on a line between two ends. None where nothing is left of it.
    pub fn of(strip: &'a Strip, left: Length, right: Length) -> Option<Self> {
        let breaks = i64::try_from(strip.gaps.len()).unwrap_or(0);
        let own = strip.high - strip.low - strip.gaps.iter().map(|gap| gap.to - gap.from).sum::<i64>();
        let StripScale { values, breaks: most } =
            strip.scale.unwrap_or(StripScale { values: own, breaks: u8::try_from(breaks).unwrap_or(u8::MAX) });
        let length = right - left - BREAK * i64::from(most).max(breaks);
        if length <= Length::ZERO || own <= 0 || values < own {
            return None;
        }
        let right = left + length.fraction(own, values) + BREAK * breaks;
        Some(Self { low: strip.low, high: strip.high, left, right, gaps: &strip.gaps, values, length })
    }

    /// Where a value stands; values past the ends stand at the ends.
    pub fn at(&self, value: i64) -> Length {
        let value = value.clamp(self.low, self.high);
        let passed = self.gaps.iter().filter(|gap| gap.from < value);
        let left_out: i64 = passed.clone().map(|gap| gap.to.min(value) - gap.from).sum();
        let breaks = i64::try_from(passed.filter(|gap| gap.to <= value).count()).unwrap_or(0);
        self.left + self.length.fraction(value - left_out - self.low, self.values) + BREAK * breaks
    }

    /// The line between its breaks.
    pub fn stretches(&self) -> Vec<(Length, Length)> {
        let mut from = self.left;
        let mut stretches = Vec::new();
        for gap in self.gaps {
            stretches.push((from, self.at(gap.from)));
            from = self.at(gap.to);
        }
        stretches.push((from, self.right));
        stretches
    }

    /// Whether a value lies on a part of the line.
    pub fn holds(&self, value: i64) -> bool {
        (self.low..=self.high).contains(&value) && !self.gaps.iter().any(|gap| gap.from < value && value < gap.to)
    }
}

/// A strip while it is drawn, from the top down.
pub(super) struct StripSheet<'p> {
    pub pen: &'p Pen,
    pub form: &'static StripForm,
    pub is_heavy: bool,
    pub axis: Axis<'p>,
    /// Where words end.
    pub edge: Length,
    pub marks: Vec<Mark>,
    /// The next free height.
    pub y: Length,
    /// What is read aloud together: the title, each flag, the scale, each row.
    pub block: u32,
}

impl StripSheet<'_> {
    /// Adds words to what is read aloud together.
    pub fn say(&mut self, glyphs: Vec<Glyphs>) {
        let place = ReadPlace { block: self.block, cell: None };
        self.marks.extend(glyphs.into_iter().map(|glyphs| Mark::Glyphs(Glyphs { place, ..glyphs })));
    }

    pub fn stroke(&mut self, from: Point, to: Point, thickness: Length) {
        self.marks.push(Mark::Line(Line { from, to, thickness, dash: None }));
    }

    /// Where a stretch of the axis stands.
    pub fn area(&self, from: i64, to: i64, top: Length, bottom: Length) -> Area {
        Area { left: self.axis.at(from), top, right: self.axis.at(to), bottom }
    }
}

/// So many rows.
pub(super) fn rows(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
