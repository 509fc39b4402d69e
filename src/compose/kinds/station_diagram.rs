//! What plugs into what: each station drawn from its sources to its loads, and the cables to pack for it.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text, TreeBlock, TreeGuard, TreeNode};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{BATTERY_CAUTION, CABLE_CAUTION, amperes, body, cable_words, small, stations, volts};
use crate::compose::to_write::rows_to_write;
use crate::ground::{Audience, Current, Span};
use crate::plan::{Each, PartCable, PartKind, Plan, Station, StationPart, subject};
use crate::reckon::{Lead, WiredPart, Wiring};
use std::collections::BTreeMap;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "station-diagram",
    title: "Station diagram",
    about: "what plugs into what: each station drawn from its sources to its loads, with connector, wire, voltage and fuse of every line, and the cables to pack",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["diagram", "no-diagram"],
    tables: &[&PACKED],
    compose: Compose::View(compose),
};

/// The cables to pack, those alike on one line.
const PACKED: TableKind = TableKind {
    key: "packed",
    columns: &[
        Column::must("count", "count", Role::Number),
        Column::must("wire", "cable", Role::Body),
        Column::must("ends", "from a connector, to one", Role::Body),
        Column::must("fuse", "fuse", Role::Body),
        Column::must("for", "for", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// So many levels have room on paper: what hangs on more begins at the left again, and says what feeds it.
const LEVELS: usize = 6;

/// How to read the drawing.
const HOW: &str = "A line feeds what it leads to. A small box on it is its fuse, where the cable begins. Voltage: what is left at the end of the cable while all that hangs on it \
                   draws its most at once, rounded down.";

/// What is written down where it is set up, since paper knows no loose crimp.
const SET_UP: [(&str, u8); 6] = [
    ("where, day", 14),
    ("polarity right", 8),
    ("fuses as drawn", 8),
    ("battery, V", 8),
    ("radio sends, V", 8),
    ("by", 14),
];

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = stations(view).into_iter().map(|station| section(view.plan(), station)).collect();
    if sections.is_empty() {
        let blocks = vec![body(Text::own("The plan has no station here.")), small(BATTERY_CAUTION)];
        sections.push(Section { key: "no-diagram", title: Text::own("Station diagram"), blocks });
    }
    sections
}

/// A station on a page of its own, since the page goes where the station goes.
fn section(plan: &Plan, station: &Station) -> Section {
    let wiring = Wiring::of(plan, station);
    let drawn = match wiring.nodes.is_empty() {
        true => body(Text::own("The plan says nothing of what it is made of.")),
        false => tree(plan, station, &wiring),
    };
    let blocks = vec![
        body(Text::own(HOW)),
        drawn,
        Block::Heading(Text::own("Cables to pack")),
        PACKED.of(packed(station, &wiring), "Nothing is fed by a cable."),
        small(CABLE_CAUTION),
        small(BATTERY_CAUTION),
        rows_to_write("When it is set up", &SET_UP, 3),
    ];
    Section { key: "diagram", title: Text::plain(station.name.as_str(), station.name.span), blocks }
}

fn tree(plan: &Plan, station: &Station, wiring: &Wiring<'_>) -> Block {
    // What else charges a battery leads to it from below, without its being drawn twice.
    let mut charged: BTreeMap<usize, Vec<Lead<'_>>> = BTreeMap::new();
    for lead in wiring.leads().filter(|lead| wiring.nodes.get(lead.to).is_some_and(|to| to.feeder != Some(lead.from))) {
        charged.entry(lead.from).or_default().push(lead);
    }
    let mut nodes = Vec::new();
    for (at, depth) in &wiring.drawn {
        let Some(node) = wiring.nodes.get(*at) else { continue };
        let lines = vec![Text::own(what_it_is(plan, node.part))];
        let level = |depth: usize| u16::try_from(depth % LEVELS).unwrap_or(0);
        nodes.push(TreeNode {
            level: level(*depth),
            name: Text::plain(node.part.name.as_str(), node.part.name.span),
            lines,
            on_line: guard(&node.part.cable).filter(|_| node.feeder.is_some()),
            beside: beside(wiring, (*at, node), *depth),
            record: Some(subject(station)),
            span: node.part.name.span,
        });
        for lead in charged.get(at).into_iter().flatten() {
            let Some(battery) = wiring.nodes.get(lead.to).map(|node| node.part) else { continue };
            let mut beside = vec![Text::own(line_words(lead.cable))];
            beside.extend(lead.cable.fuse.is_none().then(|| Text::own("no fuse of its own")));
            if (depth + 1) % LEVELS == 0 {
                beside.push(Text::strong(format!("from {}", node.part.name.value), node.part.name.span));
            }
            nodes.push(TreeNode {
                level: level(depth + 1),
                name: Text::plain(format!("to {}", battery.name.value), lead.named.span),
                lines: vec![Text::own("charges it as well")],
                on_line: guard(lead.cable),
                beside,
                record: Some(subject(station)),
                span: lead.named.span,
            });
        }
    }
    Block::Tree(TreeBlock { key: "wiring", nodes })
}

/// The fuse of a cable.
fn guard(cable: &PartCable) -> Option<TreeGuard> {
    cable.fuse.map(|fuse| TreeGuard {
        short: Text::plain(fuse.value.to_string(), fuse.span),
        words: Text::plain(format!("fuse {}", fuse.value), fuse.span),
    })
}

/// `blade pair, 2 m of 12 AWG`.
fn line_words(cable: &PartCable) -> String {
    let plug = cable.plug.as_ref().map_or_else(|| "connector not given".to_owned(), |plug| plug.to_string());
    format!("{plug}, {}", cable_words(cable))
}

/// What a part is, what it gives and what it takes.
fn what_it_is(plan: &Plan, part: &StationPart) -> String {
    let mut words = vec![part.kind.value.word().replace('-', " ")];
    let battery = part.battery.as_ref().and_then(|id| plan.batteries.get(&id.value));
    words.extend(battery.map(|battery| format!("{}, {}", battery.capacity.value, battery.nominal())));
    if battery.is_none() {
        words.extend(part.voltage.map(|voltage| format!("gives {}", voltage.value)));
    }
    words.extend(part.power.map(|power| format!("at most {}", power.value)));
    words.extend(match (part.lowest, part.highest) {
        (Some(low), Some(high)) => Some(format!("takes {} to {}", low.value, high.value)),
        (Some(low), None) => Some(format!("takes {} at least", low.value)),
        (None, Some(high)) => Some(format!("takes {} at most", high.value)),
        (None, None) => None,
    });
    words.join(", ")
}

/// What is said of the line that feeds a part.
fn beside(wiring: &Wiring<'_>, (at, node): (usize, &WiredPart<'_>), depth: usize) -> Vec<Text> {
    let part = node.part;
    let Some(feeder) = wiring.feeder(node) else {
        return if part.kind.value.is_source() {
            Vec::new()
        } else {
            vec![Text::strong("nothing feeds it", part.name.span)]
        };
    };
    let mut lines = Vec::new();
    if node.is_in_circle {
        let words = format!("fed by {}, in a circle: by nothing", feeder.part.name.value);
        lines.push(Text::strong(words, part.name.span));
    } else if depth >= LEVELS && depth.is_multiple_of(LEVELS) {
        lines.push(Text::strong(format!("fed by {}", feeder.part.name.value), part.name.span));
    }
    lines.push(Text::own(line_words(&part.cable)));
    if part.cable.fuse.is_none() {
        lines.push(Text::own("no fuse of its own"));
    }
    let drawn = wiring.flow(at);
    let left = wiring.left(at).filter(|_| drawn > Current::grains(0));
    if part.kind.value != PartKind::Battery {
        lines.push(match left {
            Some(left) => Text::own(format!("{} at {}", volts(left), amperes(drawn))),
            None => Text::own("voltage not known"),
        });
    }
    lines
}

/// What one looks for when a cable is packed: wire, connectors at both ends, fuse.
type Cable = [String; 3];

/// Of more parts with cables that are alike the first are named: all stand in the drawing.
const MOST_NAMED: usize = 12;

/// One line for cables that are alike in all that is packed.
fn packed(station: &Station, wiring: &Wiring<'_>) -> Vec<Row> {
    let mut known: BTreeMap<Cable, usize> = BTreeMap::new();
    let mut rows: Vec<(Cable, Vec<&StationPart>)> = Vec::new();
    for lead in wiring.leads() {
        let Some((from, to)) = wiring.nodes.get(lead.from).zip(wiring.nodes.get(lead.to)) else { continue };
        let cable = cable(from.part, lead.cable);
        let at = *known.entry(cable.clone()).or_insert(rows.len());
        match rows.get_mut(at) {
            Some((_, parts)) => parts.push(to.part),
            None => rows.push((cable, vec![to.part])),
        }
    }
    let row = |([wire, ends, fuse], parts): (Cable, Vec<&StationPart>)| {
        let named = parts.iter().take(MOST_NAMED).map(|part| part.name.as_str());
        let mut names: Vec<String> = named.map(ToOwned::to_owned).collect();
        let more = parts.len().saturating_sub(MOST_NAMED);
        names.extend((more > 0).then(|| format!("and {more} more")));
        let span = parts.first().map_or(Span::NOWHERE, |part| part.name.span);
        let cell = |key, words: String| PACKED.cell(key, Text::plain(words, span));
        let cells = vec![
            cell("count", parts.len().to_string()),
            cell("wire", wire),
            cell("ends", ends),
            cell("fuse", fuse),
            cell("for", names.join(", ")),
        ];
        Row { label: String::new(), record: Some(subject(station)), span, cells }
    };
    rows.into_iter().map(row).collect()
}

/// A cable from a part.
fn cable(from: &StationPart, cable: &PartCable) -> Cable {
    let not_given = || "not given".to_owned();
    let plug = cable.plug.as_ref().map_or_else(not_given, |plug| plug.to_string());
    let sockets: Vec<&str> = from.sockets.iter().map(|socket| socket.as_str()).collect();
    let socket = if sockets.is_empty() { not_given() } else { sockets.join(" or ") };
    [
        cable_words(cable),
        format!("{socket}, {plug}"),
        cable.fuse.map_or_else(|| "none".to_owned(), |fuse| fuse.value.to_string()),
    ]
}
