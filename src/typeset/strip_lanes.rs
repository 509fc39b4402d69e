//! Rows of stretches under the line of a strip: high ribbons with words below them, and thin rows that touch.

use super::lines::broken;
use super::strip_form::{BESIDE, MEANING, MEANING_LINE, THIN, cut};
use super::strip_sheet::{StripSheet, rows};
use super::strip_words::{CellWords, placed};
use crate::compose::block::{Arrows, CellHalf, LaneForm, Saying, Shade, StripCell, StripLane, Text};
use crate::ground::Length;
use crate::sheet::{Area, Mark, Outline, Pattern, Patterned, Point, across, down};

/// Arrows: half their width, their height, from one to the next, and from one to the other of two.
const HALF: Length = Length::hundredths_mm(80);
const HEIGHT: Length = Length::hundredths_mm(130);
const EACH: Length = Length::mm(14);
const TWO: Length = Length::hundredths_mm(200);
/// Over and under a ribbon.
const CLEAR: Length = Length::hundredths_mm(70);

impl StripSheet<'_> {
    /// All rows, and below them words that found no place on the line. None where words have no room.
    pub(super) fn lanes(&mut self, lanes: &[StripLane], left_over: &[&Saying]) -> Option<()> {
        for group in lanes.chunk_by(|a, b| a.form == LaneForm::Bar && b.form == LaneForm::Bar) {
            self.y += CLEAR;
            for (index, lane) in group.iter().enumerate() {
                self.lane(lane, index == 0)?;
            }
        }
        let words: Vec<CellWords<'_>> =
            left_over.iter().map(|saying| self.words(saying.from, saying.to, &saying.words)).collect();
        if !words.is_empty() {
            self.y += CLEAR;
        }
        self.meanings(&words)
    }

    fn words<'w>(&self, from: i64, to: i64, text: &'w Text) -> CellWords<'w> {
        CellWords { from: self.axis.at(from), to: self.axis.at(to), text }
    }

    fn lane(&mut self, lane: &StripLane, is_first: bool) -> Option<()> {
        self.block += 1;
        let names = broken(self.pen, &Text::own(&lane.name), cut(MEANING, self.is_heavy), self.axis.left - BESIDE)?;
        let height = match lane.form {
            LaneForm::Ribbon => self.form.ribbon,
            LaneForm::Bar => {
                self.form.thin.max(Length::hundredths_mm(255) * rows(names.len().saturating_sub(1)) + self.form.thin)
            }
        };
        let (top, bottom) = (self.y, self.y + height);
        let style = cut(MEANING, self.is_heavy);
        let lines = rows(names.len().saturating_sub(1));
        let leading = Length::hundredths_mm(255);
        let mut y = top + (height + style.capital() - leading * lines) / 2;
        let foot = y + leading * lines + style.tail();
        for name in names {
            let x = self.axis.left - BESIDE - name.width;
            let words = name.place(self.pen, Point { x, y });
            self.say(words);
            y += leading;
        }
        let mut areas: Vec<(&StripCell, Area)> =
            lane.cells.iter().map(|cell| (cell, self.cell_area(cell, top, bottom))).collect();
        areas.sort_by_key(|(_, area)| (area.left, area.right, area.top));
        for (cell, area) in &areas {
            let pattern = match cell.shade {
                Shade::Open => None,
                Shade::Limited => Some(Pattern::Dots),
                Shade::Closed => Some(Pattern::Hatch),
            };
            self.marks.extend(pattern.map(|pattern| Mark::Patterned(Patterned { area: *area, pattern })));
            self.arrows(cell, area);
        }
        self.outline(&areas, is_first);
        self.y = bottom;
        let words: Vec<CellWords<'_>> = lane
            .cells
            .iter()
            .filter(|cell| !cell.label.is_empty())
            .map(|cell| self.words(cell.from, cell.to, &cell.label))
            .collect();
        self.meanings(&words)?;
        if lane.form == LaneForm::Ribbon {
            self.y = self.y.max(foot);
        }
        Some(())
    }

    fn cell_area(&self, cell: &StripCell, top: Length, bottom: Length) -> Area {
        let middle = top + (bottom - top) / 2;
        match cell.half {
            None => self.area(cell.from, cell.to, top, bottom),
            Some(CellHalf::Upper) => self.area(cell.from, cell.to, top, middle),
            Some(CellHalf::Lower) => self.area(cell.from, cell.to, middle, bottom),
        }
    }

    /// What two cells have in common is drawn once.
    fn outline(&mut self, areas: &[(&StripCell, Area)], has_top: bool) {
        for (half, (_, area)) in areas.iter().enumerate() {
            let is_drawn = |x: Length| {
                areas.iter().take(half).any(|(_, other)| {
                    (other.left == x || other.right == x) && other.top <= area.top && other.bottom >= area.bottom
                })
            };
            if !is_drawn(area.left) {
                self.marks.push(down(area.left, area.top - THIN / 2, area.bottom + THIN / 2, THIN));
            }
            if !is_drawn(area.right) {
                self.marks.push(down(area.right, area.top - THIN / 2, area.bottom + THIN / 2, THIN));
            }
        }
        let mut edges: Vec<(Length, Length, Length)> = Vec::new();
        for (_, area) in areas {
            if has_top {
                edges.push((area.top, area.left, area.right));
            }
            edges.push((area.bottom, area.left, area.right));
        }
        edges.sort_unstable();
        let mut joined: Vec<(Length, Length, Length)> = Vec::new();
        for (y, from, to) in edges {
            match joined.last_mut().filter(|(last, _, end)| *last == y && from <= *end) {
                Some((_, _, end)) => *end = to.max(*end),
                None => joined.push((y, from, to)),
            }
        }
        self.marks.extend(joined.into_iter().map(|(y, from, to)| across(from, to, y, THIN)));
    }

    /// Arrows at even distances, where there is room for one.
    fn arrows(&mut self, cell: &StripCell, area: &Area) {
        let one = if cell.arrows == Arrows::Both { TWO + HALF * 2 } else { HALF * 2 };
        if cell.arrows == Arrows::None || cell.shade != Shade::Open || area.width() < one + Length::hundredths_mm(80) {
            return;
        }
        let count = (area.width().as_grains() / EACH.as_grains()).max(1);
        for n in 0..count {
            let x = area.left + area.width().fraction(2 * n + 1, 2 * count);
            let y = area.top + area.height() / 2;
            self.marks.extend(arrow_signs(cell.arrows, Point { x, y }));
        }
    }

    /// Words below, in as many lines as they take.
    fn meanings(&mut self, words: &[CellWords<'_>]) -> Option<()> {
        if words.is_empty() {
            return Some(());
        }
        let style = cut(MEANING, self.is_heavy);
        let (said, lines) = placed(self.pen, words, style, self.edge)?;
        let top = self.y;
        let baseline = |line: usize| top + Length::hundredths_mm(60) + style.capital() + MEANING_LINE * rows(line);
        let mut strokes = Vec::new();
        let mut runs = Vec::new();
        for said in said {
            let y = baseline(said.line);
            strokes.extend(said.leader.map(|x| down(x, top, y - style.capital() - Length::hundredths_mm(45), THIN)));
            runs.push(self.pen.line(&said.words, style, Point { x: said.x, y }));
        }
        self.marks.extend(strokes);
        for run in runs {
            self.block += 1;
            self.say(run);
        }
        self.y = baseline(lines.saturating_sub(1)) + style.tail();
        Some(())
    }
}

/// One arrow, or two beside each other.
pub(super) fn arrow_signs(arrows: Arrows, at: Point) -> Vec<Mark> {
    let sign = |x: Length, is_up: bool| {
        let (base, tip) = if is_up { (HEIGHT / 2, -HEIGHT / 2) } else { (-HEIGHT / 2, HEIGHT / 2) };
        let point = |dx: Length, dy: Length| Point { x: x + dx, y: at.y + dy };
        Mark::Outline(Outline {
            corners: vec![point(-HALF, base), point(HALF, base), point(Length::ZERO, tip)],
            black: 100,
        })
    };
    match arrows {
        Arrows::None => Vec::new(),
        Arrows::Down => vec![sign(at.x, false)],
        Arrows::Up => vec![sign(at.x, true)],
        Arrows::Both => vec![sign(at.x - TWO / 2, false), sign(at.x + TWO / 2, true)],
    }
}
