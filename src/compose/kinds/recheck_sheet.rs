//! All that is unknown or old, by place and by member, with room to write down what is found: for whoever visits next.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::site_facts::to_find_out;
use crate::ground::{Audience, Day, Id, Span, Subject, Tone};
use crate::plan::{Each, Evidence, Member, PathTest, Place, subject};
use crate::reckon::is_old;
use std::collections::BTreeMap;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "recheck-sheet",
    title: "Re-check sheet",
    about: "all that is unknown or over a year old, by place, on the air and by member, to be filled in on the next visit or call",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["places", "air", "members"],
    tables: &[&ASKED_PLACES, &ASKED_AIR, &ASKED_MEMBERS],
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

const ASKED_AIR: TableKind = TableKind {
    key: "recheck-air",
    columns: &[
        Column::must("station", "repeater, channel, path", Role::Name),
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
    let rows = |table: &'static TableKind, first: &'static str, (name, record, span): Named, what: Vec<String>| {
        let row = move |what: String| {
            let cells = vec![
                table.cell(first, name.clone()),
                table.cell("what", Text::plain(what, span)),
                table.cell("found", Text::own(FOUND)),
                table.cell("on", Text::own(ON)),
            ];
            Row { label: String::new(), record: record.clone(), span, cells }
        };
        what.into_iter().map(row).collect::<Vec<Row>>()
    };
    let place = |place: &Place| {
        let name = Text::plain(place.tactical.as_str(), place.tactical.span);
        rows(&ASKED_PLACES, "place", (name, Some(subject(place)), place.span), to_find_out(place, view))
    };
    let member = |member: &Member| {
        let name = Text::plain(named_to(member, view), member.span);
        rows(&ASKED_MEMBERS, "member", (name, Some(subject(member)), member.span), to_ask(member, view))
    };
    let places: Vec<Row> = plan.places.iter().flat_map(place).collect();
    let heard = to_hear(view).into_iter().flat_map(|(named, what)| rows(&ASKED_AIR, "station", named, what));
    let heard: Vec<Row> = heard.collect();
    let members: Vec<Row> = plan.members.iter().flat_map(member).collect();
    let section = |key, title, table: Block| Section { key, title: Text::own(title), blocks: vec![table] };
    let none = "Nothing that the plan can know is unknown or over a year old.";
    vec![
        section("places", "Re-check sheet: at places", ASKED_PLACES.of(places, none)),
        section("air", "On the air", ASKED_AIR.of(heard, none)),
        section("members", "Of members", ASKED_MEMBERS.of(members, none)),
    ]
}

/// As printed, which record it is, and where that stands.
type Named = (Text, Option<Subject>, Span);

/// What somebody must hear or try: repeaters and gateways, channels with frequencies of their own, and paths; each of which something is
/// unknown or old.
fn to_hear(view: &View<'_>) -> Vec<(Named, Vec<String>)> {
    let plan = view.plan();
    let mut all: Vec<(Named, Vec<String>)> = Vec::new();
    let heard = |evidence: Option<&Evidence>| aged(view, "Last heard", evidence.map(|seen| seen.on.value));
    for repeater in plan.repeaters.iter() {
        let lacks = [
            ("What it hears: unknown", repeater.input.is_none()),
            ("Tone that opens it: unknown", repeater.tones.tone_in.value == Tone::Unknown),
            ("Tone that it sends: unknown", repeater.tones.tone_out.value == Tone::Unknown),
        ];
        let lacks = lacks.iter().filter(|(_, lacks)| *lacks).map(|(what, _)| (*what).to_owned());
        let what = lacks.chain(heard(repeater.verified.as_ref())).collect();
        let name = Text::plain(repeater.name.as_str(), repeater.name.span);
        all.push(((name, Some(subject(repeater)), repeater.span), what));
    }
    for gateway in plan.gateways.iter() {
        let name = Text::plain(gateway.name.as_str(), gateway.name.span);
        all.push((
            (name, Some(subject(gateway)), gateway.span),
            heard(gateway.verified.as_ref()).into_iter().collect(),
        ));
    }
    // What was published stands in no need of being heard.
    let own = plan.channels.iter().filter(|channel| channel.has_own_frequencies() && channel.standard.is_none());
    for channel in own.filter(|channel| channel.service.is_amateur()) {
        let name = Text::plain(channel.name.as_str(), channel.name.span);
        all.push((
            (name, Some(subject(channel)), channel.span),
            heard(channel.verified.as_ref()).into_iter().collect(),
        ));
    }
    let mut paths: BTreeMap<(&Id, &Id, &Id), &PathTest> = BTreeMap::new();
    for test in &plan.path_tests {
        let last = paths.entry((&test.from.value, &test.to.value, &test.channel.value)).or_insert(test);
        if last.on.value < test.on.value {
            *last = test;
        }
    }
    let called = |id: &Id| plan.places.named(id).map_or_else(|| id.to_string(), |place| place.tactical.to_string());
    for ((from, to, on), test) in paths {
        let channel = plan.channels.named(on).map_or_else(|| on.to_string(), |channel| channel.name.to_string());
        let name = format!("{} to {}", called(from), called(to));
        let what = aged(view, &format!("On {channel}: last tried"), Some(test.on.value)).into_iter().collect();
        all.push(((Text::plain(name, test.span), None, test.span), what));
    }
    all
}

/// That something was never heard, or when that was, where it is over a year before the issue.
fn aged(view: &View<'_>, what: &str, on: Option<Day>) -> Option<String> {
    let issued = view.plan().edition.as_ref()?.issued.value;
    match on {
        None => Some("Never heard by the team".to_owned()),
        Some(on) if is_old(on, issued) => Some(format!("{what} {on}, {} days before the issue", issued.days_since(on))),
        Some(_) => None,
    }
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
