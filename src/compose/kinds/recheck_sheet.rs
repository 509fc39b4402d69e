//! All that is unknown or old, by place and by member, with room to write down what is found: for whoever visits next.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::site_facts::to_find_out;
use crate::ground::Audience;
use crate::plan::{Each, Member, subject};
use crate::reckon::is_old;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "recheck-sheet",
    title: "Re-check sheet",
    about: "all that is unknown or over a year old, by place and by member, to be filled in on the next visit or call",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["places", "members"],
    tables: &[&ASKED_PLACES, &ASKED_MEMBERS],
    compose: Compose::View(compose),
};

const ASKED_PLACES: TableKind = TableKind {
    key: "recheck-places",
    columns: &[
        Column::must("place", "place", Role::Name),
        Column::must("what", "unknown or old", Role::Body),
        Column::must("found", "found", Role::Body),
        Column::must("on", "day, by whom", Role::Body),
    ],
    set: UsualSet::Grid,
};

const ASKED_MEMBERS: TableKind = TableKind {
    key: "recheck-members",
    columns: &[
        Column::must("member", "member", Role::Name),
        Column::must("what", "unknown or old", Role::Body),
        Column::must("found", "found", Role::Body),
        Column::must("on", "day, by whom", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Room to write.
const FOUND: &str = "______________________";
const ON: &str = "______________";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let mut places = Vec::new();
    for place in plan.places.iter() {
        for what in to_find_out(place, view) {
            let cells = vec![
                ASKED_PLACES.cell("place", Text::plain(place.tactical.as_str(), place.tactical.span)),
                ASKED_PLACES.cell("what", Text::plain(what, place.span)),
                ASKED_PLACES.cell("found", Text::own(FOUND)),
                ASKED_PLACES.cell("on", Text::own(ON)),
            ];
            places.push(Row { label: String::new(), record: Some(subject(place)), span: place.span, cells });
        }
    }
    let mut members = Vec::new();
    for member in plan.members.iter() {
        for what in to_ask(member, view) {
            let cells = vec![
                ASKED_MEMBERS.cell("member", Text::plain(named_to(member, view), member.span)),
                ASKED_MEMBERS.cell("what", Text::plain(what, member.span)),
                ASKED_MEMBERS.cell("found", Text::own(FOUND)),
                ASKED_MEMBERS.cell("on", Text::own(ON)),
            ];
            members.push(Row { label: String::new(), record: Some(subject(member)), span: member.span, cells });
        }
    }
    let section = |key, title, table: Block| Section { key, title: Text::own(title), blocks: vec![table] };
    let none = "Nothing that the plan can know is unknown or over a year old.";
    vec![
        section("places", "At places", ASKED_PLACES.of(places, none)),
        section("members", "Of members", ASKED_MEMBERS.of(members, none)),
    ]
}

/// What somebody must ask a member.
fn to_ask(member: &Member, view: &View<'_>) -> Vec<String> {
    let mut all = Vec::new();
    if member.phones.is_empty() {
        all.push("Phone: unknown".to_owned());
    }
    if member.radios.is_empty() {
        all.push("Radios: unknown".to_owned());
    }
    let Some(issued) = view.plan().edition.as_ref().map(|edition| edition.issued.value) else { return all };
    for phone in &member.phones {
        match phone.confirmed.or(member.confirmed) {
            None => all.push("Phone: never tried".to_owned()),
            Some(on) if is_old(on.value, issued) => all.push(format!("Phone: last tried {}", on.value)),
            Some(_) => {}
        }
    }
    all
}
