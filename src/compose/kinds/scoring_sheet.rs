//! What was sent beside what arrived, by objective, to be filled in after an exercise.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};
use crate::compose::exercise_words::{at, whole_text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Subject};
use crate::plan::{Each, Exercise, Inject, Objective};
use crate::reckon::{in_time_order, inject_words};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "scoring-sheet",
    title: "Scoring sheet",
    about: "each inject as sent, by objective, to be compared with the copy that arrived and with what was expected",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["objective"],
    tables: &[&SCORES],
    compose: Compose::Exercise(compose),
};

const SCORES: TableKind = TableKind {
    key: "scores",
    columns: &[
        Column::must("serial", "no.", Role::Number),
        Column::must("at", "sent", Role::Number),
        Column::must("original", "original", Role::Body),
        Column::must("words", "words", Role::Number),
        Column::must("copied", "in copy", Role::Body),
        Column::must("wrong", "words wrong", Role::Body),
        Column::must("fields", "fields wrong", Role::Body),
        Column::must("minutes", "minutes", Role::Body),
        Column::must("expected", "expected", Role::Body),
        Column::must("seen", "seen", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Where a figure is written.
const TO_WRITE: &str = "_____";

fn compose(view: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let plan = view.plan();
    let order = in_time_order(plan);
    let rows = |objective: Option<&Objective>| -> Vec<Row> {
        let is_own = |inject: &&&Inject| match (&inject.objective, objective) {
            (Some(id), Some(own)) => id.value == own.id.value,
            (None, None) => true,
            _ => false,
        };
        order.iter().filter(is_own).map(|inject| row(inject, view, exercise)).collect()
    };
    let mut sections: Vec<Section> = plan
        .objectives
        .iter()
        .map(|objective| {
            let mut table = SCORES.table(rows(Some(objective)), "No inject serves it.");
            table.said.extend(objective.measure.as_ref().map(|words| Text::plain(words.as_str(), words.span)));
            let title = Text::plain(objective.name.as_str(), objective.name.span);
            Section { key: "objective", title, blocks: vec![Block::Table(table)] }
        })
        .collect();
    let others = rows(None);
    if !others.is_empty() || sections.is_empty() {
        let title = Text::plain("Injects without an objective", exercise.name.span);
        sections.push(Section {
            key: "objective",
            title,
            blocks: vec![SCORES.of(others, "The exercise has no inject.")],
        });
    }
    sections
}

fn row(inject: &Inject, view: &View<'_>, exercise: &Exercise) -> Row {
    let plan = view.plan();
    let expected = inject.expected.as_ref();
    let expected =
        expected.map_or_else(|| Text::own("nothing written"), |words| Text::plain(words.as_str(), words.span));
    let to_write = |key| SCORES.cell(key, Text::own(TO_WRITE));
    let cells = vec![
        SCORES.cell("serial", Text::plain(inject.serial.as_str(), inject.serial.span)),
        SCORES.cell("at", at(inject, exercise, view.plan())),
        SCORES.cell("original", whole_text(inject, plan)),
        SCORES.cell("words", Text::own(inject_words(plan, inject).to_string())),
        to_write("copied"),
        to_write("wrong"),
        to_write("fields"),
        to_write("minutes"),
        SCORES.cell("expected", expected),
        to_write("seen"),
    ];
    let record = Some(Subject::new("inject", &inject.serial.value));
    // A title would name many of them.
    Row { label: String::new(), record, span: inject.span, cells }
}
