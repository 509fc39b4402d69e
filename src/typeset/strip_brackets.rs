//! Brackets under a strip: marks that belong together.

use super::pen::RULE;
use super::strip_sheet::{AIR, DETAIL, GAP, StripSheet, rows};
use crate::compose::block::Join;
use crate::ground::Length;
use crate::sheet::{Mark, Outline, Point, across, down};

/// A row of brackets.
const BRACKET_ROW: Length = Length::hundredths_mm(480);

impl StripSheet<'_> {
    /// In as few rows as they take.
    pub(super) fn brackets(&mut self, joins: &[Join]) -> Option<()> {
        let mut brackets = joins.iter().map(|join| self.bracket(join)).collect::<Option<Vec<_>>>()?;
        brackets.sort_by_key(|bracket| (bracket.from, bracket.to));
        // Interval colouring: first fit from the left needs as few rows as any other way.
        let mut ends: Vec<Length> = Vec::new();
        for bracket in &brackets {
            let row = ends.iter().position(|end| *end + AIR <= bracket.from).unwrap_or(ends.len());
            match ends.get_mut(row) {
                Some(end) => *end = bracket.to,
                None => ends.push(bracket.to),
            }
            let top = self.y + BRACKET_ROW * rows(row);
            self.draw_bracket(bracket, top);
        }
        self.y += BRACKET_ROW * rows(ends.len());
        Some(())
    }

    /// Words inside where they fit, else right of it, else left.
    fn bracket<'a>(&self, join: &'a Join) -> Option<Bracket<'a>> {
        let (down, up) = (self.axis.at(join.down), self.axis.at(join.up));
        let (from, to) = (down.min(up), down.max(up));
        let words = self.width(&join.label, DETAIL);
        let beside = Length::hundredths_mm(150);
        let (words_at, from, to) = if words + beside * 2 <= to - from {
            (from + (to - from - words) / 2, from, to)
        } else if to + beside + words <= self.axis.right {
            (to + beside, from, to + beside + words)
        } else if from - beside - words >= Length::ZERO {
            (from - beside - words, from - beside - words, to)
        } else {
            return None;
        };
        Some(Bracket { join, down, up, words_at, from, to })
    }

    /// An arrow up into the strip, an arrow down out of it.
    fn draw_bracket(&mut self, bracket: &Bracket<'_>, top: Length) {
        let Bracket { down: out, up: into, .. } = *bracket;
        let bottom = top + Length::hundredths_mm(340);
        self.marks.push(across(out.min(into) - RULE / 2, out.max(into) + RULE / 2, bottom, RULE));
        let (length, half) = (Length::hundredths_mm(150), Length::hundredths_mm(60));
        let join = bracket.join;
        let arrow = |x: Length, point: Length, base: Length| {
            let corners = vec![Point { x, y: point }, Point { x: x - half, y: base }, Point { x: x + half, y: base }];
            Mark::Outline(Outline { corners, black: 100 })
        };
        // Where one of the two lies beyond this part of the axis, the bracket runs into its edge.
        if self.axis.holds(join.up) {
            self.marks.push(down(into, top + length, bottom, RULE));
            self.marks.push(arrow(into, top, top + length));
        }
        if self.axis.holds(join.down) {
            self.marks.push(down(out, top, bottom - length, RULE));
            self.marks.push(arrow(out, bottom - RULE / 2, bottom - length));
        }
        let at = Point { x: bracket.words_at, y: bottom - GAP };
        let words = self.line(&bracket.join.label, DETAIL, at);
        self.block += 1;
        self.say(words);
    }
}

/// A pair with its words placed.
struct Bracket<'a> {
    join: &'a Join,
    down: Length,
    up: Length,
    words_at: Length,
    /// Left end of bracket and words.
    from: Length,
    /// Right end of bracket and words.
    to: Length,
}
