//! Who may send on which channel, and why the others only listen: for whoever draws up a roster of duties.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::channel_words::{barred_words, in_order, name_text, row_number, service_word};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Day, Span, article};
use crate::plan::{Channel, Each, Member, subject};
use crate::reckon::{Eligibility, OnChannel, Verdict};
use std::collections::BTreeMap;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "eligibility-matrix",
    title: "Who may send",
    about: "who may send on which channel, and why the others only listen",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["eligibility"],
    tables: &[&ELIGIBILITY],
    compose: Compose::View(compose),
};

/// Each channel, by who may send there.
const ELIGIBILITY: TableKind = TableKind {
    key: "eligibility",
    columns: &[
        Column::must("row", "ch", Role::Number),
        Column::must("name", "channel", Role::Name),
        Column::must("count", "may send", Role::Body),
        Column::must("listen", "only listen", Role::Body),
    ],
    set: UsualSet::Grid,
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let day = view.plan().edition.as_ref().map(|edition| edition.valid_from.value);
    let note = said_on(day).then(
        "By class and license first, then by the radios that the plan lists for a member. Privileges are those of whoever is in control of the \
         station.",
    );
    let rows = in_order(view.plan()).into_iter().map(|channel| row(channel, view, day)).collect();
    let table = ELIGIBILITY.of(rows, "The plan has no channel.");
    let blocks = vec![Block::Paragraph(Paragraph { text: note, role: Role::Small }), table];
    vec![Section { key: "eligibility", title: Text::own("Who may send"), blocks }]
}

/// Of which day the matrix speaks.
fn said_on(day: Option<Day>) -> Text {
    day.map_or_else(Text::default, |day| {
        let day = Text::of_edition(day.to_string(), Span::NOWHERE);
        Text::own("On ").then_text(day).then(", the first day of this edition. ")
    })
}

fn row(channel: &Channel, view: &View<'_>, day: Option<Day>) -> Row {
    let (tables, profile, plan) = (view.tables(), view.profile(), view.plan());
    let here = Eligibility { tables, profile, plan, day }.on(channel);
    let mut by_reason: BTreeMap<Verdict, Vec<String>> = BTreeMap::new();
    let mut ending: BTreeMap<Day, Vec<String>> = BTreeMap::new();
    for member in view.plan().members.iter() {
        let verdict = here.verdict(member);
        if let Some(last) = ends_within(member, &here, view).filter(|_| verdict == Verdict::Sends) {
            ending.entry(last).or_default().push(short(member, view));
        }
        by_reason.entry(verdict).or_default().push(short(member, view));
    }
    let sends = by_reason.remove(&Verdict::Sends).map_or(0, |members| members.len());
    let all = view.plan().members.len();
    let count = match sends {
        0 => "nobody".to_owned(),
        // The plan does not say who has a radio of another service.
        some if !channel.service.is_amateur() => {
            let who = if some == all { "all".to_owned() } else { format!("{some} of {all}") };
            let service = service_word(channel, view);
            format!("{who}, with {} {service} radio", article(&service))
        }
        some if some == all => "all".to_owned(),
        some => format!("{some} of {all}"),
    };
    let until = |(day, members): (Day, Vec<String>)| {
        if members.len() == sends { format!("until {day}") } else { format!("{} until {day}", members.join(", ")) }
    };
    let ending: Vec<String> = ending.into_iter().map(until).collect();
    let count = if ending.is_empty() { count } else { format!("{count}; {}", ending.join(", ")) };
    let listen: Vec<String> = by_reason.into_iter().map(|(reason, members)| said(&reason, &members, channel)).collect();
    let listen = if listen.is_empty() { "nobody".to_owned() } else { listen.join("; ") };
    let cell = |key, words: String| ELIGIBILITY.cell(key, Text::plain(words, channel.span));
    let cells = vec![
        cell("row", row_number(channel)),
        ELIGIBILITY.cell("name", name_text(channel)),
        cell("count", count),
        cell("listen", listen),
    ];
    Row { label: row_number(channel), record: Some(subject(channel)), span: channel.span, cells }
}

/// The last day on which a member who sends here may do so, where it lies before the review of the edition.
fn ends_within(member: &Member, here: &OnChannel<'_>, view: &View<'_>) -> Option<Day> {
    let review = view.plan().edition.as_ref()?.review_by.value;
    here.until(member).filter(|day| *day < review)
}

/// The call sign; the name of who has none, where this copy's readers may know it.
fn short(member: &Member, view: &View<'_>) -> String {
    let name = || view.name(member).unwrap_or("somebody without a call sign").to_owned();
    member.call.as_ref().map_or_else(name, |call| call.to_string())
}

fn said(reason: &Verdict, members: &[String], channel: &Channel) -> String {
    let who = members.join(", ");
    match reason {
        Verdict::Sends => who,
        Verdict::ListenChannel => "all: nothing is sent on this channel".to_owned(),
        Verdict::NoLicence => format!("no amateur license: {who}"),
        Verdict::Ended => format!("license ended: {who}"),
        Verdict::Class(Some(least)) => format!("needs {least} or higher: {who}"),
        Verdict::Class(None) => format!("open to no class: {who}"),
        Verdict::Barred(barred) => format!("{}: {who}", barred_words(*barred, channel)),
        Verdict::NoRadio => format!("no radio for it: {who}"),
    }
}
