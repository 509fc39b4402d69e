//! A card for each inject, to be handed over: it never says what is expected, and is never parted.

use crate::audience::View;
use crate::compose::block::{Cell, Column, Role, Row, Section, Text};
use crate::compose::exercise_words::{at, delivered_at, length, message_of, preamble, sent_on};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Subject};
use crate::plan::{Each, Exercise, Inject};
use crate::reckon::in_time_order;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "inject-cards",
    title: "Inject cards",
    about: "a card to cut for each inject: when, where, to whom and how it is delivered, its text and its length",
    layout: "index",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["inject"],
    tables: &[&CARD],
    compose: Compose::Exercise(compose),
};

const CARD: TableKind = TableKind {
    key: "inject-card",
    columns: &[
        Column::must("place", "", Role::Name),
        Column::must("at", "", Role::Number),
        Column::must("to", "", Role::Body),
        Column::must("by", "", Role::Body),
        Column::may("net", "", Role::Body).where_used(),
        Column::must("text", "", Role::Body).where_used(),
        Column::must("preamble", "", Role::Body).where_used(),
        Column::must("address", "", Role::Body).where_used(),
        Column::must("message", "", Role::Body).where_used(),
        Column::must("signature", "", Role::Body).where_used(),
        Column::must("length", "", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["place"],
        right: &["at"],
        below: &[
            (&["to"], &["by"]),
            (&["text"], &[]),
            (&["preamble"], &[]),
            (&["address"], &[]),
            (&["message"], &[]),
            (&["signature"], &[]),
            (&["length"], &["net"]),
        ],
        above: (&[], &[]),
        like: None,
    },
};

fn compose(view: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let cards: Vec<Section> =
        in_time_order(view.plan()).into_iter().map(|inject| section(inject, view, exercise)).collect();
    if cards.is_empty() {
        let title = Text::plain("Injects", exercise.name.span);
        return vec![Section {
            key: "inject",
            title,
            blocks: vec![CARD.of(Vec::new(), "The exercise has no inject.")],
        }];
    }
    cards
}

/// One row, which no panel parts.
fn section(inject: &Inject, view: &View<'_>, exercise: &Exercise) -> Section {
    let plan = view.plan();
    let mut cells = vec![
        CARD.cell("place", delivered_at(inject, plan)),
        CARD.cell("at", at(inject, exercise, view.plan())),
        CARD.cell("to", Text::own("to ").then_text(Text::plain(inject.to.as_str(), inject.to.span))),
        CARD.cell("by", Text::plain(by(inject).to_string(), inject.by.span)),
        CARD.cell("length", length(inject, view, exercise)),
    ];
    cells.extend(sent_on(inject, plan).map(|net| CARD.cell("net", Text::own("then on ").then_text(net))));
    cells.extend(inject.text.as_ref().map(|text| ("text", large(Text::plain(text.as_str(), text.span)))));
    if let Some(message) = message_of(inject, plan) {
        let address: Vec<&str> = message.to.value.iter().map(|line| line.as_str()).collect();
        cells.push(CARD.cell("preamble", preamble(message)));
        cells.push(CARD.cell("address", Text::plain(address.join(", "), message.to.span)));
        cells.push(("message", large(Text::plain(message.text.as_str(), message.text.span))));
        cells.push(CARD.cell("signature", Text::plain(message.signature.as_str(), message.signature.span)));
    }
    let record = Some(Subject::new("inject", &inject.serial.value));
    let row = Row { label: String::new(), record, span: inject.span, cells };
    let title = Text::plain(format!("Inject {}", inject.serial.value), inject.serial.span);
    Section { key: "inject", title, blocks: vec![CARD.of(vec![row], "")] }
}

/// What is read out stands out.
const fn large(text: Text) -> Cell {
    Cell { text, role: Role::Number, base: None }
}

/// `by voice`, `in person`.
fn by(inject: &Inject) -> String {
    let word = inject.by.value.word();
    if word.contains(' ') { word.to_owned() } else { format!("by {word}") }
}
