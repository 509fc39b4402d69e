//! All that is brought into an exercise, in order of time, with what is expected of players: for those who run it.

use crate::audience::View;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::exercise_words::{at, delivered_at, lasting, real_words, sent_on, whole_text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Subject};
use crate::plan::{Each, Exercise, Inject, subject};
use crate::reckon::{NetLoad, in_time_order, inject_words, net_loads};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "controller-list",
    title: "Controller list",
    about: "all injects of an exercise in order of time, with what is expected, and what each net has to carry",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["injects", "loads"],
    tables: &[&INJECTS, &LOADS],
    compose: Compose::Exercise(compose),
};

const INJECTS: TableKind = TableKind {
    key: "injects",
    columns: &[
        Column::must("serial", "no.", Role::Number),
        Column::must("at", "at", Role::Number),
        Column::must("place", "deliver at", Role::Name),
        Column::must("to", "to", Role::Body),
        Column::must("by", "by", Role::Body),
        Column::must("net", "then on", Role::Body),
        Column::must("text", "text", Role::Body),
        Column::must("expected", "expected", Role::Body),
        Column::must("words", "words", Role::Number),
        Column::must("done", "done", Role::Body),
    ],
    set: UsualSet::Grid,
};

const LOADS: TableKind = TableKind {
    key: "net-loads",
    columns: &[
        Column::must("net", "net", Role::Name),
        Column::must("injects", "injects", Role::Number),
        Column::must("words", "words", Role::Number),
        Column::must("reading", "to read out", Role::Body),
        Column::must("through", "through", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Where a time is written.
const TO_WRITE: &str = "____";

fn compose(view: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let plan = view.plan();
    let rows = in_time_order(plan).into_iter().map(|inject| row(inject, view, exercise)).collect();
    let loads = net_loads(plan, exercise);
    let pace = format!(
        "Reckoned at {} words a minute, read out and written down (common practice, no source); calls and waiting come on top.",
        exercise.pace()
    );
    let loads = loads.iter().map(load).collect();
    let section = |key, title: &str, blocks| Section { key, title: Text::own(title), blocks };
    vec![
        section("injects", "Injects", vec![real_words(exercise), INJECTS.of(rows, "The exercise has no inject.")]),
        section(
            "loads",
            "What nets have to carry",
            vec![LOADS.of(loads, "No inject goes over a net."), crate::compose::exercise_words::body(Text::own(pace))],
        ),
    ]
}

fn row(inject: &Inject, view: &View<'_>, exercise: &Exercise) -> Row {
    let plan = view.plan();
    let expected = inject.expected.as_ref();
    let expected =
        expected.map_or_else(|| Text::own("nothing written"), |words| Text::plain(words.as_str(), words.span));
    let cells = vec![
        INJECTS.cell("at", at(inject, exercise, view.plan())),
        INJECTS.cell("serial", Text::plain(inject.serial.as_str(), inject.serial.span)),
        INJECTS.cell("place", delivered_at(inject, plan)),
        INJECTS.cell("to", Text::plain(inject.to.as_str(), inject.to.span)),
        INJECTS.cell("by", Text::plain(inject.by.value.word(), inject.by.span)),
        INJECTS.cell("net", sent_on(inject, plan).unwrap_or_else(|| Text::own("no net"))),
        INJECTS.cell("text", whole_text(inject, plan)),
        INJECTS.cell("expected", expected),
        INJECTS.cell("words", Text::own(inject_words(plan, inject).to_string())),
        INJECTS.cell("done", Text::own(TO_WRITE)),
    ];
    let record = Some(Subject::new("inject", &inject.serial.value));
    // In order of time serials are in no order that a title could name.
    Row { label: String::new(), record, span: inject.span, cells }
}

fn load(load: &NetLoad<'_>) -> Row {
    let through = match load.over {
        0 => "before the end".to_owned(),
        over => format!("{} too late", lasting(over)),
    };
    let cells = vec![
        LOADS.cell("net", Text::plain(load.net.name.as_str(), load.net.name.span)),
        LOADS.cell("injects", Text::own(load.injects.len().to_string())),
        LOADS.cell("words", Text::own(load.words.to_string())),
        LOADS.cell("reading", Text::own(lasting(load.seconds))),
        LOADS.cell("through", Text::own(through)),
    ];
    Row { label: String::new(), record: Some(subject(load.net)), span: load.net.id.span, cells }
}
