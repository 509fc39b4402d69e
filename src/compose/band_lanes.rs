//! What stands under a band's line: the band plan as a ribbon, then the law as thin rows, one for all classes that it treats alike.

use super::block::{Arrows, CellHalf, LaneForm, Saying, Shade, StripCell, StripLane, Text};
use super::scale::{axis, edge, shift_words, unit_word};
use crate::audience::View;
use crate::ground::Stretch;
use crate::reckon::{Open, open_to};
use crate::tables::{Band, Class, Custom, PairSide};

/// The rows of a band, and what is said in words in place of a row.
pub(super) struct Lanes {
    pub rows: Vec<StripLane>,
    /// What is open to whom from end to end, in words.
    pub open: Option<Text>,
    /// Where no repeater may stand, in words.
    pub closed: Option<Text>,
    /// What emissions the law allows, stretch by stretch.
    pub sayings: Vec<Saying>,
}

/// Classes to which the same is open.
struct ClassLane {
    letters: Vec<String>,
    open: Vec<(Stretch, Open)>,
}

impl ClassLane {
    fn is_open(&self) -> bool {
        self.open.iter().all(|(_, what)| *what == Open::All)
    }
}

/// The classes that the roster holds; every class of the profile without a roster.
pub(super) fn held<'a>(view: &View<'a>) -> Vec<&'a Class> {
    let members = &view.plan().members;
    let is_held = |class: &&Class| {
        members.is_empty() || members.iter().any(|m| m.class.as_ref().is_some_and(|c| c.as_str() == class.id))
    };
    view.profile().classes.iter().filter(is_held).collect()
}

/// A letter for each class, where each has one of its own: that of the last word of its name; else its name.
pub(super) fn letters(classes: &[Class]) -> Vec<String> {
    let letter =
        |class: &Class| class.name.split(' ').next_back().and_then(|word| word.chars().next()).map(String::from);
    let letters: Vec<String> = classes.iter().filter_map(letter).collect();
    let mut once = letters.clone();
    once.sort_unstable();
    once.dedup();
    if once.len() == classes.len() { letters } else { classes.iter().map(|class| class.name.clone()).collect() }
}

/// All that stands under a band's line.
pub(super) fn lanes(view: &View<'_>, band: &Band) -> Lanes {
    let profile = view.profile();
    let letters = letters(&profile.classes);
    let mut classes: Vec<ClassLane> = Vec::new();
    for class in held(view) {
        let open = open_to(profile, class, &band.edges);
        let letter =
            profile.classes.iter().position(|known| known.id == class.id).and_then(|at| letters.get(at)).cloned();
        match classes.iter_mut().find(|lane| lane.open == open) {
            Some(lane) => lane.letters.extend(letter),
            None => classes.push(ClassLane { letters: letter.into_iter().collect(), open }),
        }
    }
    let ribbon = ribbon(view, band);
    let open: Vec<String> = classes.iter().filter(|lane| lane.is_open()).map(|lane| lane.letters.join(" ")).collect();
    let sayings = sayings(&classes, ribbon.is_empty());
    let bars = classes.iter().filter(|lane| !lane.is_open()).map(bar);
    let mut rows: Vec<StripLane> = Vec::new();
    if !ribbon.is_empty() {
        rows.push(StripLane { name: "band plan, voluntary".to_owned(), form: LaneForm::Ribbon, cells: ribbon });
    }
    rows.extend(bars);
    let open = (!open.is_empty()).then(|| Text::own(format!("open to {}", open.join(" "))));
    // What is said of every open stretch alike is said once.
    let sayings = match sayings.split_first() {
        Some((first, others)) if !others.is_empty() && others.iter().all(|other| other.words == first.words) => {
            let words = Text::own("where open: ").then_text(first.words.clone());
            vec![Saying { from: axis(band.edges.low()), to: axis(band.edges.high()), words }]
        }
        _ => sayings,
    };
    Lanes { rows, open, closed: no_repeaters(view, band), sayings }
}

fn bar(lane: &ClassLane) -> StripLane {
    let cell = |(stretch, what): &(Stretch, Open)| {
        let shade = match what {
            Open::Closed => Shade::Closed,
            what if what.has_voice() => Shade::Open,
            _ => Shade::Limited,
        };
        cell((axis(stretch.low()), axis(stretch.high())), shade, Arrows::None, Text::default())
    };
    let mut cells: Vec<StripCell> = Vec::new();
    for one in lane.open.iter().map(cell) {
        match cells.last_mut().filter(|last| last.shade == one.shade && last.to == one.from) {
            Some(last) => last.to = one.to,
            None => cells.push(one),
        }
    }
    StripLane { name: lane.letters.join(" "), form: LaneForm::Bar, cells }
}

const fn cell((from, to): (i64, i64), shade: Shade, arrows: Arrows, label: Text) -> StripCell {
    StripCell { from, to, half: None, shade, arrows, label }
}

/// What the highest class may send where that is not everything, with the classes that may send less there. Where a band plan says what a stretch
/// is for, only what is closed to voice is said.
fn sayings(classes: &[ClassLane], is_alone: bool) -> Vec<Saying> {
    let Some((highest, others)) = classes.split_last() else { return Vec::new() };
    let mut sayings = Vec::new();
    for (stretch, what) in &highest.open {
        let Open::Some { words, has_voice } = what else { continue };
        if *has_voice && !is_alone {
            continue;
        }
        let mut said = words.clone();
        for lane in others {
            let here = lane.open.iter().filter(|(other, _)| other.overlaps(stretch));
            let less = here.filter_map(|(_, other)| match other {
                Open::Some { words: other, .. } if other != words => Some(other),
                _ => None,
            });
            let mut less: Vec<&String> = less.collect();
            less.dedup();
            less.iter().for_each(|less| said.push_str(&format!("; {} only {less}", lane.letters.join(" "))));
        }
        sayings.push(Saying { from: axis(stretch.low()), to: axis(stretch.high()), words: Text::own(said) });
    }
    sayings
}

/// The band plan, stretch by stretch; rows that lie over each other share the height.
fn ribbon(view: &View<'_>, band: &Band) -> Vec<StripCell> {
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let rows = view.profile().customs.iter().filter(|row| row.edges.overlaps(&band.edges));
    let mut cells: Vec<StripCell> =
        rows.map(|row| custom(row, (low, high))).filter(|cell| cell.to > cell.from).collect();
    cells.sort_by_key(|cell| (cell.from, cell.to));
    let mut joined: Vec<StripCell> = Vec::new();
    for cell in cells {
        let is_like = |last: &StripCell| {
            last.to == cell.from && last.label == cell.label && last.shade == cell.shade && last.arrows == cell.arrows
        };
        match joined.last_mut().filter(|last| is_like(last)) {
            Some(last) => last.to = cell.to,
            None => joined.push(cell),
        }
    }
    halved(joined)
}

fn custom(row: &Custom, (low, high): (i64, i64)) -> StripCell {
    let is_limited = row.is_without_fm || row.is_without_voice;
    let arrows = match row.side {
        Some(PairSide::Input) => Arrows::Up,
        Some(PairSide::Output) => Arrows::Down,
        Some(PairSide::Simplex) => Arrows::Both,
        None if row.shift.is_some() => Arrows::Both,
        None => Arrows::None,
    };
    let shift = row.shift.map(|shift| format!(" {}", shift_words(shift.as_hertz()))).unwrap_or_default();
    let words = format!("{}{shift}", row.word.as_ref().unwrap_or(&row.use_));
    let edges = (axis(row.edges.low()).max(low), axis(row.edges.high()).min(high));
    cell(edges, if is_limited { Shade::Limited } else { Shade::Open }, arrows, Text::own(words))
}

/// Cells that lie over each other take a half of the row each. What lies over two is said with the one below it.
pub(super) fn halved(cells: Vec<StripCell>) -> Vec<StripCell> {
    let mut placed: Vec<StripCell> = Vec::new();
    for mut cell in cells {
        // What lies within another stretch is said with it.
        let is_outer = |other: &&mut StripCell| other.from <= cell.from && cell.to <= other.to && other.half.is_none();
        let has_words = !cell.label.is_empty();
        if let Some(outer) = placed.iter_mut().find(is_outer).filter(|_| has_words) {
            outer.label = outer.label.clone().then(", ").then_text(cell.label);
            continue;
        }
        let over: Vec<Option<CellHalf>> =
            placed.iter().filter(|other| other.to > cell.from).map(|other| other.half).collect();
        let is_free = |half: CellHalf| !over.contains(&Some(half));
        match over.as_slice() {
            [] => {}
            [None] => {
                if let Some(last) = placed.iter_mut().find(|other| other.to > cell.from) {
                    last.half = Some(CellHalf::Upper);
                }
                cell.half = Some(CellHalf::Lower);
            }
            _ if is_free(CellHalf::Lower) => cell.half = Some(CellHalf::Lower),
            _ if is_free(CellHalf::Upper) => cell.half = Some(CellHalf::Upper),
            _ => {
                if let Some(last) = placed.last_mut() {
                    last.label = last.label.clone().then("; ").then_text(cell.label);
                }
                continue;
            }
        }
        placed.push(cell);
    }
    placed
}

/// Where no repeater may stand, in words; nothing of a band that has no place for one at all, or is all one.
fn no_repeaters(view: &View<'_>, band: &Band) -> Option<Text> {
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let mut open: Vec<(i64, i64)> = view
        .profile()
        .repeater_segments
        .iter()
        .filter(|row| row.edges.overlaps(&band.edges))
        .map(|row| (axis(row.edges.low()).max(low), axis(row.edges.high()).min(high)))
        .collect();
    open.sort_unstable();
    let mut closed: Vec<String> = Vec::new();
    let mut from = low;
    for (start, end) in open.iter().copied().chain([(high, high)]) {
        if start > from {
            closed.push(format!("{} to {}", edge(from), edge(start)));
        }
        from = from.max(end);
    }
    let is_said = !open.is_empty() && !closed.is_empty();
    is_said.then(|| Text::own(format!("no repeaters {} {}", closed.join(", "), unit_word(low))))
}
