//! What plugs into what: each station drawn from its sources to its loads, and the cables to pack for it.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text, TreeBlock, TreeGuard, TreeNode};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{BATTERY_CAUTION, CABLE_CAUTION, amperes, body, cable_words, small, stations, volts};
use crate::ground::{Audience, Current, Span};
use crate::plan::{Each, PartKind, Plan, Station, StationPart, subject};
use crate::reckon::{WiredPart, Wiring};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "station-diagram",
    title: "Station diagram",
    about: "what plugs into what: each station drawn from its sources to its loads, with connector, wire, voltage and fuse of every line, and the cables to pack",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["diagram", "packed", "no-diagram"],
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

fn compose(view: &View<'_>) -> Vec<Section> {
    let wired = stations(view).into_iter().map(|station| (station, Wiring::of(view.plan(), station)));
    let wired: Vec<(&Station, Wiring<'_>)> = wired.collect();
    let mut sections: Vec<Section> =
        wired.iter().map(|(station, wiring)| section(view.plan(), station, wiring)).collect();
    let mut blocks = Vec::new();
    if let Some(first) = sections.first_mut() {
        first.blocks.insert(0, body(Text::own(HOW)));
        blocks.push(PACKED.of(packed(&wired), "Nothing is fed by a cable."));
        blocks.extend([small(CABLE_CAUTION), small(BATTERY_CAUTION)]);
        sections.push(Section { key: "packed", title: Text::own("Cables to pack"), blocks });
    } else {
        blocks.extend([body(Text::own("The plan has no station here.")), small(BATTERY_CAUTION)]);
        sections.push(Section { key: "no-diagram", title: Text::own("Station diagram"), blocks });
    }
    sections
}

fn section(plan: &Plan, station: &Station, wiring: &Wiring<'_>) -> Section {
    let drawn = match wiring.nodes.is_empty() {
        true => body(Text::own("The plan says nothing of what it is made of.")),
        false => tree(plan, station, wiring),
    };
    let title = Text::plain(station.name.as_str(), station.name.span);
    Section { key: "diagram", title, blocks: vec![drawn] }
}

fn tree(plan: &Plan, station: &Station, wiring: &Wiring<'_>) -> Block {
    let nodes = wiring.drawn.iter().filter_map(|(at, depth)| {
        let node = wiring.nodes.get(*at)?;
        let part = node.part;
        Some(TreeNode {
            level: u16::try_from(depth % LEVELS).unwrap_or(0),
            name: Text::plain(part.name.as_str(), part.name.span),
            lines: vec![Text::own(what_it_is(plan, part))],
            on_line: part.fuse.filter(|_| node.feeder.is_some()).map(|fuse| TreeGuard {
                short: Text::plain(fuse.value.to_string(), fuse.span),
                words: Text::plain(format!("fuse {}", fuse.value), fuse.span),
            }),
            beside: beside(wiring, (*at, node), *depth),
            record: Some(subject(station)),
            span: part.name.span,
        })
    });
    Block::Tree(TreeBlock { key: "wiring", nodes: nodes.collect() })
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
    let plug = part.plug.as_ref().map_or_else(|| "connector not given".to_owned(), |plug| plug.to_string());
    lines.push(Text::own(format!("{plug}, {}", cable_words(part))));
    if part.fuse.is_none() {
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

/// A part with its station.
type Fed<'a> = (&'a Station, &'a StationPart);

/// One line for cables that are alike in all that is packed.
fn packed(wired: &[(&Station, Wiring<'_>)]) -> Vec<Row> {
    let mut rows: Vec<(Cable, Vec<Fed<'_>>)> = Vec::new();
    for (station, wiring) in wired {
        for node in wiring.drawn.iter().filter_map(|(at, _)| wiring.nodes.get(*at)) {
            let Some(feeder) = wiring.feeder(node) else { continue };
            let cable = cable(feeder.part, node.part);
            match rows.iter_mut().find(|(known, _)| *known == cable) {
                Some((_, parts)) => parts.push((station, node.part)),
                None => rows.push((cable, vec![(station, node.part)])),
            }
        }
    }
    let row = |([wire, ends, fuse], parts): (Cable, Vec<Fed<'_>>)| {
        let mut names: Vec<String> = Vec::new();
        for (station, part) in &parts {
            names.push(match wired.len() {
                1 => part.name.to_string(),
                _ => format!("{} of {}", part.name.value, station.name.value),
            });
        }
        let (record, span) = parts.first().map(|(station, part)| (subject(*station), part.name.span)).unzip();
        let span = span.unwrap_or(Span::NOWHERE);
        let cell = |key, words: String| PACKED.cell(key, Text::plain(words, span));
        let cells = vec![
            cell("count", parts.len().to_string()),
            cell("wire", wire),
            cell("ends", ends),
            cell("fuse", fuse),
            cell("for", names.join(", ")),
        ];
        Row { label: String::new(), record, span, cells }
    };
    rows.into_iter().map(row).collect()
}

/// The cable between two parts.
fn cable(from: &StationPart, to: &StationPart) -> Cable {
    let not_given = || "not given".to_owned();
    let plug = to.plug.as_ref().map_or_else(not_given, |plug| plug.to_string());
    let sockets: Vec<&str> = from.sockets.iter().map(|socket| socket.as_str()).collect();
    let socket = if sockets.is_empty() { not_given() } else { sockets.join(" or ") };
    [
        cable_words(to),
        format!("{socket}, {plug}"),
        to.fuse.map_or_else(|| "none".to_owned(), |fuse| fuse.value.to_string()),
    ]
}
