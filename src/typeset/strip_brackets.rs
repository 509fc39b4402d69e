//! Brackets below the line of a strip: two values that belong together, with an arrow up into the line.

use super::pen::Style;
use super::strip_form::{BRACKET, GAP, JOIN, JOIN_NAME, LINE, cut, row, row_width};
use super::strip_sheet::{StripSheet, rows};
use crate::compose::block::{Join, Text};
use crate::ground::Length;
use crate::sheet::{Mark, Outline, Point, across, down};

/// Levels of brackets at most: more of them are summed up.
const LEVELS: usize = 4;
/// Between the words of a bracket, and between two brackets of a level.
const WORDS: Length = Length::hundredths_mm(110);
const APART: Length = Length::hundredths_mm(200);
/// The arrow: its length, and half its width.
const ARROW: Length = Length::hundredths_mm(185);
const HALF_ARROW: Length = Length::hundredths_mm(75);
/// Words over their line.
const OVER: Length = Length::hundredths_mm(80);

/// Words of a bracket with where they begin.
type WordsAt<'a> = (Vec<(&'a Text, Style)>, Length);

/// A pair on its level, with its words placed.
struct Bracket<'a> {
    join: &'a Join,
    low: Length,
    high: Length,
    level: usize,
    /// Groups of its words with where they begin.
    words: Vec<WordsAt<'a>>,
}

/// The brackets of a strip.
pub(super) struct Brackets<'a> {
    brackets: Vec<Bracket<'a>>,
    pub levels: usize,
}

impl<'a> StripSheet<'a> {
    /// Pairs as brackets: each by itself, or the pairs of a shift as one where they would take too many levels. None where not even those fit.
    pub(super) fn bracketed(&self, joins: &'a [Join], summed: &'a [Join]) -> Option<Brackets<'a>> {
        self.levelled(joins).filter(|brackets| brackets.levels <= LEVELS).or_else(|| self.levelled(summed))
    }

    fn levelled(&self, joins: &'a [Join]) -> Option<Brackets<'a>> {
        let mut sorted: Vec<(Length, Length, &Join)> = joins
            .iter()
            .map(|join| {
                let (one, other) = (self.axis.at(join.down), self.axis.at(join.up));
                (one.min(other), one.max(other), join)
            })
            .collect();
        sorted.sort_by_key(|(low, high, join)| (*low, *high, join.name.words()));
        let mut is_beside: Vec<bool> =
            sorted.iter().map(|(low, high, join)| self.least(join) + GAP * 2 > *high - *low).collect();
        for _ in 0..=sorted.len() {
            let levels = self.levels(&sorted, &is_beside);
            let mut brackets = Vec::new();
            let mut crowded = None;
            for (index, (low, high, join)) in sorted.iter().enumerate() {
                let level = levels.get(index).copied().unwrap_or(0);
                // Legs of deeper brackets pass through this level.
                let deeper = sorted.iter().zip(&levels).filter(|(_, other)| **other > level);
                let mut legs: Vec<Length> = deeper.flat_map(|((low, high, _), _)| [*low, *high]).collect();
                legs.sort_unstable();
                let words = match is_beside.get(index) {
                    Some(true) => self.beside(join, (*low, *high), &legs)?,
                    _ => match self.inside(join, (*low, *high), &legs) {
                        Some(words) => words,
                        None => {
                            crowded = Some(index);
                            break;
                        }
                    },
                };
                brackets.push(Bracket { join, low: *low, high: *high, level, words });
            }
            match crowded.and_then(|index| is_beside.get_mut(index)) {
                Some(is_beside) => *is_beside = true,
                None => {
                    let levels = levels.iter().map(|level| level + 1).max().unwrap_or(0);
                    return self.are_apart(&brackets).then_some(Brackets { levels, brackets });
                }
            }
        }
        None
    }

    /// Whether no words of a level stand on others.
    fn are_apart(&self, brackets: &[Bracket<'a>]) -> bool {
        let mut taken: Vec<(usize, Length, Length)> = Vec::new();
        for bracket in brackets {
            let end = |(words, from): &WordsAt<'a>| (bracket.level, *from, *from + row_width(self.pen, words, WORDS));
            taken.extend(bracket.words.iter().map(end));
        }
        taken.sort_unstable();
        !taken.iter().zip(taken.iter().skip(1)).any(|(one, next)| one.0 == next.0 && one.2 > next.1)
    }

    fn styles(&self, join: &'a Join) -> [(&'a Text, Style); 3] {
        let (name, figure) = (cut(JOIN_NAME, self.is_heavy), cut(JOIN, self.is_heavy));
        let shift = Style { role: crate::compose::block::Role::Small, ..figure };
        [(&join.name, name), (&join.figure, figure), (&join.shift, shift)]
    }

    /// The width of what one looks for: name and figure.
    fn least(&self, join: &'a Join) -> Length {
        let [name, figure, _] = self.styles(join);
        row_width(self.pen, &[name, figure], WORDS)
    }

    /// By lower edge, each on the first free level. Those whose words stand beside them follow below the others, from right to left, so that no
    /// leg passes through such words.
    fn levels(&self, sorted: &[(Length, Length, &'a Join)], is_beside: &[bool]) -> Vec<usize> {
        let mut levels = vec![0; sorted.len()];
        let mut ends: Vec<Length> = Vec::new();
        for (index, (low, high, _)) in
            sorted.iter().enumerate().filter(|(index, _)| is_beside.get(*index) != Some(&true))
        {
            let level = ends.iter().position(|end| *end + APART <= *low).unwrap_or(ends.len());
            match ends.get_mut(level) {
                Some(end) => *end = *high,
                None => ends.push(*high),
            }
            if let Some(place) = levels.get_mut(index) {
                *place = level;
            }
        }
        let below = ends.len();
        let mut starts: Vec<Length> = Vec::new();
        for (index, (low, high, join)) in
            sorted.iter().enumerate().rev().filter(|(index, _)| is_beside.get(*index) == Some(&true))
        {
            let end = *high + GAP + row_width(self.pen, &self.styles(join), WORDS);
            let level = starts.iter().position(|start| end + APART <= *start).unwrap_or(starts.len());
            match starts.get_mut(level) {
                Some(start) => *start = *low,
                None => starts.push(*low),
            }
            if let Some(place) = levels.get_mut(index) {
                *place = below + level;
            }
        }
        levels
    }

    /// All words in the widest gap between legs; the shift in the next one where it does not fit there.
    fn inside(&self, join: &'a Join, (low, high): (Length, Length), legs: &[Length]) -> Option<Vec<WordsAt<'a>>> {
        let [name, figure, shift] = self.styles(join);
        let stops: Vec<Length> = std::iter::once(low)
            .chain(legs.iter().copied().filter(|leg| low < *leg && *leg < high))
            .chain(std::iter::once(high))
            .collect();
        let mut gaps: Vec<(Length, Length)> =
            stops.windows(2).filter_map(|pair| Some((*pair.first()? + GAP, *pair.last()? - GAP))).collect();
        gaps.sort_by_key(|(from, to)| (*from - *to, *from));
        let middle = |(from, to): (Length, Length), width: Length| from + (to - from - width) / 2;
        let widest = *gaps.first()?;
        let whole = vec![name, figure, shift];
        let width = row_width(self.pen, &whole, WORDS);
        if width <= widest.1 - widest.0 {
            return Some(vec![(whole, middle(widest, width))]);
        }
        let first = vec![name, figure];
        let (first_width, shift_width) = (row_width(self.pen, &first, WORDS), row_width(self.pen, &[shift], WORDS));
        let next = *gaps.get(1).filter(|(from, to)| shift_width <= *to - *from)?;
        (first_width <= widest.1 - widest.0)
            .then(|| vec![(first, middle(widest, first_width)), (vec![shift], middle(next, shift_width))])
    }

    /// Words right of a bracket that is narrower than they are, else left of it.
    fn beside(&self, join: &'a Join, (low, high): (Length, Length), legs: &[Length]) -> Option<Vec<WordsAt<'a>>> {
        let words = self.styles(join).to_vec();
        let width = row_width(self.pen, &words, WORDS);
        let is_clear = |from: Length| !legs.iter().any(|leg| from - GAP < *leg && *leg < from + width + GAP);
        let right = Some(high + GAP).filter(|x| *x + width <= self.edge && is_clear(*x));
        let left = Some(low - GAP - width).filter(|x| *x >= self.axis.left && is_clear(*x));
        Some(vec![(words, right.or(left)?)])
    }

    /// Where legs go down from the line.
    pub(super) fn legs(brackets: &Brackets<'_>) -> Vec<Length> {
        brackets.brackets.iter().flat_map(|bracket| [bracket.low, bracket.high]).collect()
    }

    /// Draws brackets whose first level stands below `foot`.
    pub(super) fn brackets(&mut self, brackets: &Brackets<'_>, line: Length, foot: Length) {
        for bracket in &brackets.brackets {
            let bottom = foot + self.form.bracket * (rows(bracket.level) + 1);
            self.marks.push(across(bracket.low - BRACKET / 2, bracket.high + BRACKET / 2, bottom, BRACKET));
            let top = line + LINE / 2;
            let join = bracket.join;
            // Where one of the two lies beyond this part of the axis, the bracket runs into its edge.
            if self.axis.holds(join.down) {
                self.marks.push(down(self.axis.at(join.down), top, bottom, BRACKET));
            }
            if self.axis.holds(join.up) {
                let x = self.axis.at(join.up);
                self.marks.push(down(x, top + ARROW, bottom, BRACKET));
                self.marks.push(arrow(x, top));
            }
            self.block += 1;
            for (words, x) in &bracket.words {
                let words = row(self.pen, words, WORDS, Point { x: *x, y: bottom - OVER });
                self.say(words);
            }
        }
    }
}

/// The head of an arrow that points up to a height.
pub(super) fn arrow(x: Length, top: Length) -> Mark {
    let base = top + ARROW;
    let corners = vec![Point { x, y: top }, Point { x: x - HALF_ARROW, y: base }, Point { x: x + HALF_ARROW, y: base }];
    Mark::Outline(Outline { corners, black: 100 })
}
