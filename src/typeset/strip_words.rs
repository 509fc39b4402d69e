//! Words below the cells of a row: centred on one line, else broken in two, else on a further line with a leader; all chosen together.

use super::pen::{Pen, Style};
use crate::compose::block::Text;
use crate::ground::Length;
use crate::sheet::Point;
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
#[derive(Clone)]
struct WordsSoFar {
    ends: [Length; LINES],
    cost: i64,
    last: Option<Rc<LastWords>>,
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
        let mut next: Vec<WordsSoFar> = ways.iter().flat_map(|way| room.options(cell, &forms, way)).collect();
        if next.is_empty() {
            next.extend(
                forms.first().into_iter().flat_map(|lined| ways.iter().filter_map(|way| room.below(cell, lined, way))),
            );
        }
        next.sort_by_key(|way| (way.cost, way.ends));
        next.dedup_by_key(|way| way.ends);
        next.truncate(FOLLOWED);
        ways = next;
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
        let width = |words: &Text| self.pen.line(words, self.style, Point::default()).iter().map(|run| run.width).sum();
        let measured = |words: Text| {
            let width = width(&words);
            (Rc::new(words), width)
        };
        let words: Vec<(Rc<Text>, Length)> = words.into_iter().map(measured).collect();
        let widest = words.iter().map(|(_, width)| *width).fold(Length::ZERO, Length::max);
        Lined { words, widest }
    }

    /// Words without a leader on the first line that is free under their cell.
    fn below(&self, cell: &CellWords<'_>, lined: &Lined, way: &WordsSoFar) -> Option<WordsSoFar> {
        let x = (cell.middle() - lined.widest / 2).min(self.edge - lined.widest).max(Length::ZERO);
        let line = way.ends.iter().position(|end| *end + APART <= x)?;
        Some(way.with(lined, (x + lined.widest / 2, line), None, 0))
    }

    /// The words of a cell on one line, and on two where they can be parted.
    fn forms(&self, cell: &CellWords<'_>) -> Vec<Lined> {
        let two = halves(self.pen, cell.text, self.style).map(Vec::from);
        std::iter::once(vec![cell.text.clone()]).chain(two).map(|words| self.lined(words)).collect()
    }

    /// All ways to go on with a cell.
    fn options(&self, cell: &CellWords<'_>, forms: &[Lined], way: &WordsSoFar) -> Vec<WordsSoFar> {
        let mut options = Vec::new();
        for (broken, lined) in forms.iter().enumerate() {
            for line in 0..LINES.saturating_sub(lined.words.len() - 1) {
                let cost = i64::try_from(broken * 60 + line * 120).unwrap_or(i64::MAX);
                options.extend(
                    self.on_line(cell, way, lined, line)
                        .into_iter()
                        .map(|way| WordsSoFar { cost: way.cost + cost, ..way }),
                );
            }
        }
        options
    }

    /// Words from a line on: as near to their middle as what stands left of them lets, and further left, to leave room for the next.
    fn on_line(&self, cell: &CellWords<'_>, way: &WordsSoFar, lined: &Lined, line: usize) -> Vec<WordsSoFar> {
        let (middle, inside, widest) = (cell.middle(), cell.to - cell.from, lined.widest);
        let leader = (line > 0).then_some(middle);
        // With a leader words may stand as far to a side as still reach under it.
        let most = if line > 0 { (widest / 2 - LEADER).max(Length::ZERO) } else { SLIDE.max((inside - widest) / 2) };
        let end = |n: usize| way.ends.get(line + n).copied().unwrap_or(self.edge);
        let least =
            lined.words.iter().enumerate().map(|(n, (_, width))| (end(n) + APART).max(Length::ZERO) + *width / 2);
        let least = least.fold(Length::ZERO, Length::max);
        let at = middle.max(least).min(self.edge - widest / 2);
        let is_led = leader.is_none() || way.ends.iter().take(line).all(|end| *end + LEADER <= middle);
        if !is_led {
            return Vec::new();
        }
        let shift = |at: Length| (at - middle).max(middle - at);
        let places = [Length::ZERO, SLIDE / 2, SLIDE, most].map(|slide| at - slide);
        let fits = places.into_iter().filter(|at| *at >= least && shift(*at) <= most);
        let tenths = |length: Length| length.as_grains() / Length::hundredths_mm(10).as_grains();
        let beyond = tenths((widest - inside).max(Length::ZERO));
        fits.map(|at| way.with(lined, (at, line), leader, tenths(shift(at)) + beyond)).collect()
    }
}

impl CellWords<'_> {
    fn middle(&self) -> Length {
        self.from + (self.to - self.from) / 2
    }
}

impl WordsSoFar {
    /// With words about a middle, from a line on.
    fn with(&self, lined: &Lined, (at, line): (Length, usize), leader: Option<Length>, cost: i64) -> Self {
        let mut new = self.clone();
        if let Some(leader) = leader {
            new.ends.iter_mut().take(line).for_each(|end| *end = leader + LEADER - APART);
        }
        for (n, (words, width)) in lined.words.iter().enumerate() {
            let x = at - *width / 2;
            if let Some(end) = new.ends.get_mut(line + n) {
                *end = x + *width;
            }
            let leader = leader.filter(|_| n == 0);
            let placed = PlacedWords { words: Rc::clone(words), x, line: line + n, leader };
            new.last = Some(Rc::new(LastWords { placed, before: new.last.take() }));
        }
        new.cost += cost;
        new
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
