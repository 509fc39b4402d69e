//! Which place was heard at which, as tried on the air: a matrix, and what it rests on.

use crate::audience::View;
use crate::compose::block::{
    Block, Column, Matrix, MatrixCell, MatrixColumn, MatrixRow, Role, Row, Section, Sign, Text,
};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{body, small};
use crate::compose::to_write::rows_to_write;
use crate::ground::{Audience, Id, Span, plural};
use crate::plan::{Each, Heard, PathTest, Place, subject};
use std::collections::{BTreeMap, BTreeSet};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "who-hears-whom",
    title: "Who hears whom",
    about: "which place was heard at which, as tried on the air: a matrix of the last trials, and every trial with channel, power and day",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["heard"],
    tables: &[&TRIALS],
    compose: Compose::View(compose),
};

/// Every trial.
const TRIALS: TableKind = TableKind {
    key: "trials",
    columns: &[
        Column::must("from", "sent from", Role::Name),
        Column::must("to", "heard at", Role::Name),
        Column::must("result", "result", Role::Body),
        Column::must("channel", "channel", Role::Body),
        Column::must("power", "power", Role::Body),
        Column::must("on", "on", Role::Body),
        Column::may("note", "note", Role::Body).where_used(),
    ],
    set: UsualSet::Grid,
};

/// What is written of a trial, in the order in which the plan has it.
const TRIED: [(&str, u8); 8] = [
    ("sent from", 9),
    ("heard at", 9),
    ("channel", 7),
    ("power, W", 5),
    ("clear", 4),
    ("noisy", 4),
    ("nothing", 5),
    ("day, time, by", 13),
];

/// Places that a matrix has room for; of more the list alone is set.
const MOST: usize = 40;

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    // Of trials of one path the last counts.
    let mut last: BTreeMap<(&Id, &Id), &PathTest> = BTreeMap::new();
    for test in &plan.path_tests {
        let known = last.entry((&test.from.value, &test.to.value)).or_insert(test);
        if known.on.value <= test.on.value {
            *known = test;
        }
    }
    let tried: BTreeSet<&Id> = last.keys().flat_map(|(from, to)| [*from, *to]).collect();
    let stood: BTreeSet<&Id> = plan.posts.iter().filter_map(|post| Some(&post.place.as_ref()?.value as &Id)).collect();
    // Where somebody stands and nothing was tried is what one wants to see; of too many those with a trial.
    let wanted: BTreeSet<&Id> = tried.union(&stood).copied().collect();
    let wanted = if wanted.len() <= MOST { wanted } else { tried };
    let places: Vec<&Place> = plan.places.iter().filter(|place| wanted.contains(&place.id.value)).collect();
    let mut blocks = Vec::new();
    if last.is_empty() {
        blocks.push(body(Text::own("No path was tried yet, by what the plan says.")));
    }
    if !places.is_empty() && places.len() <= MOST {
        blocks.push(Block::Matrix(matrix(&places, &last)));
    }
    let mut tests: Vec<&PathTest> = plan.path_tests.iter().collect();
    let name = |id: &Id| plan.places.named(id).map_or_else(|| id.to_string(), |place| place.tactical.to_string());
    tests.sort_by_cached_key(|test| (name(&test.from.value), name(&test.to.value), std::cmp::Reverse(test.on.value)));
    let rows: Vec<Row> = tests.iter().map(|test| row(view, test)).collect();
    if !rows.is_empty() {
        blocks.push(TRIALS.of(rows, ""));
        let words = format!(
            "{} of {}. A path that was heard on one day is not proved for another: power, antennas, snow and what was built since change it. What was not tried is not known.",
            plural(tests.len(), "trial"),
            plural(last.len(), "path")
        );
        blocks.push(small(words));
    }
    blocks.push(rows_to_write("Tried next: one trial a line", &TRIED, 6));
    vec![Section { key: "heard", title: Text::own("Who hears whom"), blocks }]
}

fn matrix(places: &[&Place], last: &BTreeMap<(&Id, &Id), &PathTest>) -> Matrix {
    let name = |place: &Place| Text::plain(place.tactical.as_str(), place.tactical.span);
    let column = |place: &&Place| MatrixColumn { number: String::new(), name: name(place), lines: Vec::new() };
    let cell = |from: &Place, to: &Place| {
        let test = last.get(&(&from.id.value, &to.id.value));
        MatrixCell::Sign(match test.map(|test| test.result.value) {
            Some(Heard::Clear) => Sign::Filled,
            Some(Heard::Noisy) => Sign::Ring,
            Some(Heard::Nothing) => Sign::Dash,
            None => Sign::Dot,
        })
    };
    let row = |from: &&Place| MatrixRow {
        label: from.tactical.to_string(),
        head: vec![name(from)],
        cells: places.iter().map(|to| cell(from, to)).collect(),
        notes: Vec::new(),
        begins: false,
        record: Some(subject(*from)),
        span: from.span,
    };
    let said = |sign, words: &str| (Some(sign), Text::own(words));
    Matrix {
        key: "heard",
        heads: vec!["sent from"],
        columns: places.iter().map(column).collect(),
        rows: places.iter().map(row).collect(),
        counted: vec![Sign::Filled, Sign::Ring],
        counts: Text::own(format!("places, of {}", places.len())),
        legend: vec![
            said(Sign::Filled, "heard clear"),
            said(Sign::Ring, "heard with noise"),
            said(Sign::Dash, "tried, nothing heard"),
            said(Sign::Dot, "not tried, or the place itself"),
        ],
    }
}

fn row(view: &View<'_>, test: &PathTest) -> Row {
    let plan = view.plan();
    let place = |id: &Id, span: Span| {
        Text::plain(plan.places.named(id).map_or_else(|| id.to_string(), |place| place.tactical.to_string()), span)
    };
    let channel =
        plan.channels.get(&test.channel.value).map_or_else(|| test.channel.to_string(), |own| own.name.to_string());
    let heard = match test.result.value {
        Heard::Clear => "clear",
        Heard::Noisy => "noisy",
        Heard::Nothing => "nothing heard",
    };
    let power = test.power.map_or_else(|| "not given".to_owned(), |power| power.value.to_string());
    let mut cells = vec![
        TRIALS.cell("from", place(&test.from.value, test.from.span)),
        TRIALS.cell("to", place(&test.to.value, test.to.span)),
        TRIALS.cell("result", Text::plain(heard, test.result.span)),
        TRIALS.cell("channel", Text::plain(channel, test.channel.span)),
        TRIALS.cell("power", Text::own(power)),
        TRIALS.cell("on", Text::plain(test.on.value.to_string(), test.on.span)),
    ];
    cells.extend(test.note.as_ref().map(|note| TRIALS.cell("note", Text::plain(note.as_str(), note.span))));
    Row { label: String::new(), record: None, span: test.span, cells }
}
