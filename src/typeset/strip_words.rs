//! Words below the cells of a row: centred on one line, else broken in two, else on a further line with a leader; all chosen together.

use super::pen::{Pen, Style};
use crate::compose::block::Text;
use crate::ground::Length;
use std::rc::Rc;

/// A cell with what it says.
pub(super) struct CellWords<'a> {
    pub from: Length,
    pub to: Length,
    pub text: &'a Text,
}

/// Words on their line.
#[derive(Clone, Debug)]
pub(super) struct PlacedWords {
    pub words: Rc<Text>,
    pub x: Length,
    /// From 0.
    pub line: usize,
    /// Where a leader goes down to them.
    pub leader: Option<Length>,
}

/// Lines below a row at most.
const LINES: usize = 6;
/// Between the words of neighbours, beside a leader, and how far words may leave their middle.
const APART: Length = Length::hundredths_mm(120);
const LEADER: Length = Length::hundredths_mm(60);
const SLIDE: Length = Length::hundredths_mm(120);
/// Ways that are followed up at once.
const FOLLOWED: usize = 64;

/// Words so far: where each line ends, and what it cost. Ways have what they began with in common.
struct WordsSoFar {
    ends: [Length; LINES],
    cost: i64,
    last: Option<Rc<LastWords>>,
}

/// A way to go on: which of those so far, with which words, about which middle, from which line on. Most are let go at once, so no
/// more is made of them.
#[derive(Clone, Copy)]
struct WordsStep {
    ends: [Length; LINES],
    cost: i64,
    way: usize,
    form: usize,
    at: Length,
    line: usize,
    leader: Option<Length>,
}

/// The last words of a way, and those before them.
struct LastWords {
    placed: PlacedWords,
    before: Option<Rc<LastWords>>,
}

/// The words of cells from left to right, and how many lines they take. None where there is no room for them.
pub(super) fn placed(
    pen: &Pen,
    cells: &[CellWords<'_>],
    style: Style,
    edge: Length,
) -> Option<(Vec<PlacedWords>, usize)> {
    let room = WordsRoom { pen, style, edge };
    let mut sorted: Vec<&CellWords<'_>> = cells.iter().collect();
    sorted.sort_by_key(|cell| (cell.from + cell.to, cell.from));
    let mut ways = vec![WordsSoFar { ends: [-APART; LINES], cost: 0, last: None }];
    for cell in sorted {
        let forms = room.forms(cell);
        let mut next: Vec<WordsStep> = Vec::new();
        ways.iter().enumerate().for_each(|way| room.options(cell, &forms, way, &mut next));
        if let (true, Some(lined)) = (next.is_empty(), forms.first()) {
            next.extend(ways.iter().enumerate().filter_map(|way| room.below(cell, lined, way)));
        }
        let best = best(&mut next);
        ways = best.iter().filter_map(|step| Some(ways.get(step.way)?.with(forms.get(step.form)?, step))).collect();
    }
    let best = ways.into_iter().next()?;
    let mut said = Vec::new();
    let mut last = best.last.as_deref();
    while let Some(LastWords { placed, before }) = last {
        said.push(placed.clone());
        last = before.as_deref();
    }
    said.reverse();
    let lines = said.iter().map(|words| words.line + 1).max().unwrap_or(0);
    Some((said, lines))
}

/// The best ways to go on, best first, of those that leave the same room after each other only one. Most of all ways are bad ones: they are
/// not put in order.
fn best(all: &mut [WordsStep]) -> Vec<WordsStep> {
    // No two steps have one key, unless they are the same.
    let key = |step: &WordsStep| (step.cost, step.ends, step.way, step.form, step.line);
    let mut sorted = 4 * FOLLOWED;
    loop {
        if sorted < all.len() {
            all.select_nth_unstable_by_key(sorted, key);
        }
        let count = sorted.min(all.len());
        let Some(first) = all.get_mut(..count) else { return Vec::new() };
        first.sort_unstable_by_key(key);
        let mut best = first.to_vec();
        best.dedup_by_key(|step| step.ends);
        if best.len() >= FOLLOWED || sorted >= all.len() {
            best.truncate(FOLLOWED);
            return best;
        }
        sorted *= 4;
    }
}

/// What words are set with, and where they end.
struct WordsRoom<'p> {
    pen: &'p Pen,
    style: Style,
    edge: Length,
}

/// Words in one line or two, and how wide each is.
struct Lined {
    words: Vec<(Rc<Text>, Length)>,
    widest: Length,
}

impl WordsRoom<'_> {
    fn lined(&self, words: Vec<Text>) -> Lined {
        let measured = |words: Text| {
            let width = self.pen.line_width(&words, self.style);
            (Rc::new(words), width)
        };
        let words: Vec<(Rc<Text>, Length)> = words.into_iter().map(measured).collect();
        let widest = words.iter().map(|(_, width)| *width).fold(Length::ZERO, Length::max);
        Lined { words, widest }
    }

    /// Words without a leader on the first line that is free under their cell.
    fn below(&self, cell: &CellWords<'_>, lined: &Lined, (way, so_far): (usize, &WordsSoFar)) -> Option<WordsStep> {
        let x = (cell.middle() - lined.widest / 2).min(self.edge - lined.widest).max(Length::ZERO);
        let line = so_far.ends.iter().position(|end| *end + APART <= x)?;
        let step = WordsStep {
            ends: so_far.ends,
            cost: so_far.cost,
            way,
            form: 0,
            at: x + lined.widest / 2,
            line,
            leader: None,
        };
        Some(step.ending(lined))
    }

    /// The words of a cell on one line, and on two where they can be parted.
    fn forms(&self, cell: &CellWords<'_>) -> Vec<Lined> {
        let two = halves(self.pen, cell.text, self.style).map(Vec::from);
        std::iter::once(vec![cell.text.clone()]).chain(two).map(|words| self.lined(words)).collect()
    }

    /// All ways to go on with a cell.
    fn options(
        &self,
        cell: &CellWords<'_>,
        forms: &[Lined],
        (way, so_far): (usize, &WordsSoFar),
        options: &mut Vec<WordsStep>,
    ) {
        for (form, lined) in forms.iter().enumerate() {
            for line in 0..LINES.saturating_sub(lined.words.len() - 1) {
                let cost = so_far.cost + i64::try_from(form * 60 + line * 120).unwrap_or(i64::MAX);
                let from = WordsStep { ends: so_far.ends, cost, way, form, at: Length::ZERO, line, leader: None };
                self.on_line(cell, lined, from, options);
            }
        }
    }

    /// Words from a line on: as near to their middle as what stands left of them lets, and further left, to leave room for the next.
    fn on_line(&self, cell: &CellWords<'_>, lined: &Lined, from: WordsStep, options: &mut Vec<WordsStep>) {
        let WordsStep { line, ends, .. } = from;
        let (middle, inside, widest) = (cell.middle(), cell.to - cell.from, lined.widest);
        let leader = (line > 0).then_some(middle);
        // With a leader words may stand as far to a side as still reach under it.
        let most = if line > 0 { (widest / 2 - LEADER).max(Length::ZERO) } else { SLIDE.max((inside - widest) / 2) };
        let end = |n: usize| ends.get(line + n).copied().unwrap_or(self.edge);
        let least =
            lined.words.iter().enumerate().map(|(n, (_, width))| (end(n) + APART).max(Length::ZERO) + *width / 2);
        let least = least.fold(Length::ZERO, Length::max);
        let at = middle.max(least).min(self.edge - widest / 2);
        let is_led = leader.is_none() || ends.iter().take(line).all(|end| *end + LEADER <= middle);
        if !is_led {
            return;
        }
        let shift = |at: Length| (at - middle).max(middle - at);
        let places = [Length::ZERO, SLIDE / 2, SLIDE, most].map(|slide| at - slide);
        let fits = places.into_iter().filter(|at| *at >= least && shift(*at) <= most);
        let tenths = |length: Length| length.as_grains() / Length::hundredths_mm(10).as_grains();
        let beyond = tenths((widest - inside).max(Length::ZERO));
        for at in fits {
            let cost = from.cost + tenths(shift(at)) + beyond;
            options.push(WordsStep { cost, at, leader, ..from }.ending(lined));
        }
    }
}

impl CellWords<'_> {
    fn middle(&self) -> Length {
        self.from + (self.to - self.from) / 2
    }
}

impl WordsStep {
    /// With the ends of lines as they are after it.
    fn ending(mut self, lined: &Lined) -> Self {
        if let Some(leader) = self.leader {
            self.ends.iter_mut().take(self.line).for_each(|end| *end = leader + LEADER - APART);
        }
        for ((_, width), end) in lined.words.iter().zip(self.ends.iter_mut().skip(self.line)) {
            *end = self.at - *width / 2 + *width;
        }
        self
    }
}

impl WordsSoFar {
    /// With the words of a step.
    fn with(&self, lined: &Lined, step: &WordsStep) -> Self {
        let mut last = self.last.clone();
        for (n, (words, width)) in lined.words.iter().enumerate() {
            let leader = step.leader.filter(|_| n == 0);
            let x = step.at - *width / 2;
            let placed = PlacedWords { words: Rc::clone(words), x, line: step.line + n, leader };
            last = Some(Rc::new(LastWords { placed, before: last }));
        }
        Self { ends: step.ends, cost: step.cost, last }
    }
}

/// Words in two lines of about one width. None for a single word.
fn halves(pen: &Pen, text: &Text, style: Style) -> Option<[Text; 2]> {
    let words = text.words();
    let spaces = words.match_indices(' ').map(|(at, _)| at);
    let parted = spaces.filter_map(|at| Some((words.get(..at)?, words.get(at + 1..)?)));
    let (first, second) = parted.min_by_key(|(a, b)| pen.width(a, style).max(pen.width(b, style)))?;
    Some([first, second].map(|words| Text::plain(words, text.span)))
}
