//! What is left of each net when one thing fails: the rehearsal of the plan's own words, for those who lead.

use super::block::{Block, Cell, Column, Paragraph, Role, Row, Section, Table, Text};
use super::kind::{Kind, Order};
use crate::audience::View;
use crate::ground::{Span, plural};
use crate::plan::{Each, Member, Net, Plan};
use crate::reckon::{Eligibility, Loss, Met, losses, posts_of, rehearse};

/// The kind.
pub(super) const KIND: Kind = Kind {
    name: "rehearsal-report",
    title: "Failure rehearsal",
    layout: "full-wide",
    each: &[Each::Once],
    sections: &["rehearsal"],
    is_last: false,
    compose,
};

/// What was rehearsed, and what no paper rehearsal can show.
const NOTE: &str = "Each line takes one thing away and lets everybody follow their own card alone: a row's next channel first, then the net's order. Members \
                    count who have a duty in the net; radios as the plan lists them. Whether a signal gets through is not known here.";

fn compose(view: &View<'_>, _: &Order<'_>) -> Vec<Section> {
    let (tables, profile, plan) = (view.tables(), view.profile(), view.plan());
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let mut rows = Vec::new();
    for loss in losses(plan) {
        let all: Vec<(&Net, Option<Met<'_>>)> = plan
            .nets
            .iter()
            .map(|net| (net, rehearse(Eligibility { tables, profile, plan, day }, net, &loss)))
            .collect();
        for (net, met) in &all {
            let Some(met) = met else { continue };
            let others = all
                .iter()
                .filter(|(other, theirs)| other.id.value != net.id.value && is_on(other, theirs.as_ref(), met));
            let others: Vec<&Net> = others.map(|(other, _)| *other).collect();
            rows.push(row(&loss, net, met, &crowd(plan, net, &others)));
        }
    }
    let column = |key, heading| Column { key, heading, is_must: true };
    let table = Table {
        key: "rehearsal",
        columns: vec![
            column("lost", "without"),
            column("net", "net"),
            column("meets", "meets on"),
            column("present", "send there"),
            column("listening", "only listen"),
            column("apart", "not there"),
        ],
        rows,
        when_empty: Text::own("No loss of one thing takes a net's primary channel, or no duty says who works a net."),
    };
    let blocks = vec![Block::Paragraph(Paragraph { text: Text::own(NOTE), role: Role::Small }), Block::Table(table)];
    vec![Section { key: "rehearsal", title: Text::own("Failure rehearsal"), blocks }]
}

/// Whether another net is then on the channel where this one meets: its own primary where that lives.
fn is_on(other: &Net, theirs: Option<&Met<'_>>, met: &Met<'_>) -> bool {
    let Some(on) = met.on else { return false };
    match theirs {
        Some(theirs) => theirs.on.is_some_and(|their| their.id.value == on.id.value),
        None => other.legs.first().is_some_and(|leg| leg.channel.value == on.id.value),
    }
}

/// Who else is there, and how many posts that makes; nothing where the net is alone.
fn crowd(plan: &Plan, net: &Net, others: &[&Net]) -> String {
    let names: Vec<&str> = others.iter().map(|other| other.name.as_str()).collect();
    let all: Vec<&Net> = others.iter().copied().chain([net]).collect();
    match others {
        [] => String::new(),
        _ => format!(", with {}: {} in all", names.join(", "), plural(posts_of(plan, &all), "post")),
    }
}

fn row(loss: &Loss, net: &Net, met: &Met<'_>, crowd: &str) -> Row {
    let body = |words: String| Cell { text: Text::plain(words, net.span), role: Role::Body, base: None };
    let named = |members: &[&Member]| {
        let names: Vec<String> = members.iter().map(|member| member.name.to_string()).collect();
        if names.is_empty() { "nobody".to_owned() } else { names.join(", ") }
    };
    let apart: Vec<String> =
        met.apart.iter().map(|(member, apart)| format!("{} {}", member.name.value, apart.words())).collect();
    let meets = match met.on {
        None => Text::strong("nowhere", net.span),
        Some(on) => Text::plain(format!("{}{crowd}", on.name.value), on.name.span),
    };
    let cells = vec![
        ("lost", body(loss.words.clone())),
        ("net", body(net.name.to_string())),
        ("meets", Cell { text: meets, role: Role::Body, base: None }),
        ("present", body(named(&met.present))),
        ("listening", body(named(&met.listening))),
        ("apart", body(if apart.is_empty() { "nobody".to_owned() } else { apart.join(", ") })),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
