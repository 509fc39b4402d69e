//! A label for the envelope of each inject: what a controller must know before it is opened, and nothing of what is in it.

use crate::audience::View;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::exercise_words::{at, delivered_at};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Subject};
use crate::plan::{Each, Exercise, Inject};
use crate::reckon::in_time_order;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "envelope-labels",
    title: "Envelope labels",
    about: "a label to cut for the envelope of each inject: where, when and by whom it may be opened",
    layout: "card",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["label"],
    tables: &[&LABEL],
    compose: Compose::Exercise(compose),
};

const LABEL: TableKind = TableKind {
    key: "envelope-label",
    columns: &[
        Column::must("place", "", Role::Name),
        Column::must("at", "", Role::Number),
        Column::must("to", "", Role::Body),
    ],
    set: UsualSet::Rows { left: &["place"], right: &["at"], below: &[(&["to"], &[])], above: (&[], &[]), like: None },
};

fn compose(view: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let labels: Vec<Section> =
        in_time_order(view.plan()).into_iter().map(|inject| section(inject, view, exercise)).collect();
    if labels.is_empty() {
        let title = Text::plain("Injects", exercise.name.span);
        return vec![Section {
            key: "label",
            title,
            blocks: vec![LABEL.of(Vec::new(), "The exercise has no inject.")],
        }];
    }
    labels
}

fn section(inject: &Inject, view: &View<'_>, exercise: &Exercise) -> Section {
    let cells = vec![
        LABEL.cell("place", delivered_at(inject, view.plan())),
        LABEL.cell("at", Text::own("open at ").then_text(at(inject, exercise, view.plan()))),
        LABEL.cell("to", Text::own("for ").then_text(Text::plain(inject.to.as_str(), inject.to.span))),
    ];
    let record = Some(Subject::new("inject", &inject.serial.value));
    let row = Row { label: String::new(), record, span: inject.span, cells };
    let title = Text::plain(format!("Inject {}", inject.serial.value), inject.serial.span);
    Section { key: "label", title, blocks: vec![LABEL.of(vec![row], "")] }
}
