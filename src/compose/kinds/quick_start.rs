//! Gateways to try, one after the other: dial, call, path, speed, when it was last tried, what next.

use crate::audience::View;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::channel_words::tied;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::body;
use crate::ground::Audience;
use crate::plan::{Channel, Each, Gateway, Route, subject};
use crate::reckon::is_old;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "quick-start",
    title: "Digital quick start",
    about: "gateways to try, one after the other: dial, call to connect to, path, speed, when it was last tried, and the next one",
    layout: "fold-4",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["digital"],
    tables: &[&GATEWAYS],
    compose: Compose::View(compose),
};

/// Gateways.
pub(super) const GATEWAYS: TableKind = TableKind {
    key: "quick-start",
    columns: &[
        Column::must("name", "gateway", Role::Name),
        Column::must("hear", "dial", Role::Hear),
        Column::must("call", "connect to", Role::Call),
        Column::must("path", "path", Role::Body),
        Column::must("state", "", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["name"],
        right: &["hear"],
        below: &[(&["call", "path"], &[]), (&["state"], &[])],
        above: (&[], &[]),
        like: None,
    },
};

fn compose(view: &View<'_>) -> Vec<Section> {
    vec![digital(view)]
}

/// Gateways by name, each with what to try next.
pub(super) fn digital(view: &View<'_>) -> Section {
    let plan = view.plan();
    let all: Vec<&Gateway> = plan.gateways.iter().collect();
    let row = |(place, gateway): (usize, &&Gateway)| {
        let (mut path, span) = (Vec::new(), gateway.span);
        path.extend(gateway.via.as_ref().map(|via| format!("through {}", via.value)));
        path.push(gateway.speed.map_or_else(|| "speed UNKNOWN".to_owned(), |speed| speed.value.to_string()));
        let on = |channel: &&Channel| matches!(&channel.route, Route::Gateway(id) if *id.value == gateway.id.value);
        path.extend(plan.channels.iter().find(on).map(|channel| format!("channel {}", tied(channel.name.as_str()))));
        let mut state = vec![tried(gateway, view)];
        if gateway.needs_internet.value {
            state.push("of no use without the internet".to_owned());
        }
        let next = all.get(place + 1).or_else(|| all.first()).filter(|next| next.id.value != gateway.id.value);
        state.extend(next.map(|next| format!("no answer: try {}", tied(next.name.as_str()))));
        let dial = GATEWAYS.cell("hear", Text::plain(gateway.frequency.value.to_mhz(), gateway.frequency.span));
        let cells = vec![
            GATEWAYS.cell("name", Text::plain(gateway.name.as_str(), span)),
            dial,
            GATEWAYS.cell("call", Text::plain(gateway.call.to_string(), span)),
            GATEWAYS.cell("path", Text::plain(path.join(", "), span)),
            GATEWAYS.cell("state", Text::plain(state.join("; "), span)),
        ];
        Row { label: String::new(), record: Some(subject(*gateway)), span, cells }
    };
    let rows = all.iter().enumerate().map(row).collect();
    let then = match all.len() {
        ..2 => "Two tries; the plan has no other gateway: send it by voice, or by hand.",
        _ => "Two tries, then the next gateway.",
    };
    let how = format!("Dial in MHz. Listen first, wait until the channel is quiet, then connect. {then}");
    let blocks = vec![GATEWAYS.of(rows, "The plan has no gateway."), body(Text::own(how))];
    Section { key: "digital", title: Text::own("Digital quick start"), blocks }
}

fn tried(gateway: &Gateway, view: &View<'_>) -> String {
    let issued = view.plan().edition.as_ref().map(|edition| edition.issued.value);
    match (&gateway.verified, issued) {
        (Some(seen), Some(issued)) if is_old(seen.on.value, issued) => {
            format!("last tried {}, long ago", seen.on.value)
        }
        (Some(seen), _) => format!("last tried {}", seen.on.value),
        (None, _) => "UNKNOWN whether it works: nobody tried".to_owned(),
    }
}
