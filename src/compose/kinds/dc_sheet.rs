//! The cables of a station: what they connect, wire, length, fuse, and the voltage that is left at their end.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{BATTERY_CAUTION, CABLE_CAUTION, amperes, body, cable_words, small, stations, volts};
use crate::compose::to_write::rows_about;
use crate::ground::{Audience, Current, Decimal, Gauge, Run, Span};
use crate::plan::{Each, PartKind, Station, subject};
use crate::reckon::drop as wire_drop;
use crate::reckon::{Lead, Wiring, lost, microohms_per_meter};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "dc-sheet",
    title: "Cables and fuses",
    about: "the cables of each station to pack: from where to where, connector, wire, length, fuse, and the voltage left at the end under load",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["cables", "no-cables"],
    tables: &[&CABLES, &WIRES],
    compose: Compose::View(compose),
};

/// The cables of a station.
const CABLES: TableKind = TableKind {
    key: "cables",
    columns: &[
        Column::must("to", "cable to", Role::Name),
        Column::must("from", "from", Role::Body),
        Column::must("plug", "connector", Role::Body),
        Column::must("wire", "wire", Role::Body),
        Column::must("fuse", "fuse", Role::Body),
        Column::must("lost", "lost", Role::Body),
        Column::must("left", "left at the end", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What usual wires take.
const WIRES: TableKind = TableKind {
    key: "wires",
    columns: &[
        Column::must("wire", "wire", Role::Name),
        Column::must("ohms", "m\u{3a9} a meter", Role::Body),
        Column::must("at-5", "5 A", Role::Body),
        Column::must("at-10", "10 A", Role::Body),
        Column::must("at-20", "20 A", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The gauges that a team is likely to have, where somebody makes a cable on the spot.
const USUAL: [i8; 6] = [8, 10, 12, 14, 16, 18];

/// How long the cable is that the table of wires is for.
const TABLE_RUN: i64 = 3000;

/// What is measured while it sends.
const MEASURED: [(&str, u8); 6] =
    [("at the end of", 16), ("planned, V", 8), ("waits, V", 8), ("sends, V", 8), ("draws, A", 8), ("day, by", 12)];

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = stations(view).into_iter().map(|station| section(view, station)).collect();
    if sections.is_empty() {
        let blocks = vec![body(Text::own("The plan has no station here."))];
        sections.push(Section { key: "no-cables", title: Text::own("Cables and fuses"), blocks });
    }
    sections
}

/// A station on a page of its own: with the way in which the figures were found, wires for a cable that is made on the spot, and room for
/// what is measured.
fn section(view: &View<'_>, station: &Station) -> Section {
    let wiring = Wiring::of(view.plan(), station);
    let rows = wiring.leads().filter_map(|lead| row(station, &wiring, lead)).collect();
    let table = CABLES.of(rows, "Nothing of it is fed by a cable.");
    let said = Text::own(
        "Pack one cable for each line. Lost: by this cable, there and back. Left: after it and all before it. Both while all of the station draws its most at once.",
    );
    let mut blocks = vec![body(said), table];
    blocks.extend(worked(&wiring));
    blocks.push(Block::Heading(Text::own("Another cable: what 3 m take, there and back, in volts")));
    blocks.push(WIRES.of(USUAL.into_iter().map(wire).collect(), ""));
    let planned: Vec<Vec<Text>> = wiring.leads().filter_map(|lead| planned(&wiring, lead)).collect();
    blocks.extend([small(CABLE_CAUTION), small(BATTERY_CAUTION)]);
    if !planned.is_empty() {
        blocks.push(rows_about("Measured while it sends", &MEASURED, planned));
    }
    Section { key: "cables", title: Text::plain(station.name.as_str(), station.name.span), blocks }
}

/// How the loss of the cable that takes the most was found.
fn worked(wiring: &Wiring<'_>) -> Option<Block> {
    let known = wiring.leads().filter_map(|lead| {
        let drawn = wiring.flow(lead.to);
        Some((lost(lead.cable, drawn)?, lead.cable.wire?.value, lead.cable.length?.value, drawn, lead))
    });
    let (lost, wire, length, drawn, lead) = known.max_by_key(|(lost, ..)| *lost)?;
    let to = wiring.nodes.get(lead.to)?.part;
    let text = Text::strong("Lost = 2 x length x resistance of the wire x current. ", lead.named.span).then(format!(
        "{}: 2 x {length} x {} m\u{3a9} a meter x {drawn} = {lost}, rounded up.",
        to.name.value,
        milliohms(wire)
    ));
    Some(body(text))
}

/// Of a meter of one conductor: `5.211`.
fn milliohms(wire: Gauge) -> String {
    Decimal::print(microohms_per_meter(wire), 1000, 3)
}

fn wire(awg: i8) -> Row {
    let gauge = Gauge::Awg(awg);
    let takes = |amperes: i64| {
        let lost = wire_drop(gauge, Run::grains(TABLE_RUN), Current::grains(amperes * 1000)).as_grains();
        Decimal::print((lost + 9) / 10, 100, 2)
    };
    let cell = |key, words: String| WIRES.cell(key, Text::own(words));
    let cells = vec![
        cell("wire", gauge.to_string()),
        cell("ohms", milliohms(gauge)),
        cell("at-5", takes(5)),
        cell("at-10", takes(10)),
        cell("at-20", takes(20)),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

/// What the plan says of a load, where one measures.
fn planned(wiring: &Wiring<'_>, lead: Lead<'_>) -> Option<Vec<Text>> {
    let part = wiring.nodes.get(lead.to)?.part;
    if !part.kind.value.is_load() {
        return None;
    }
    let left = wiring.left(lead.to).filter(|_| wiring.flow(lead.to) > Current::grains(0));
    let left = left.map_or_else(|| "not known".to_owned(), volts);
    Some(vec![Text::plain(part.name.as_str(), part.name.span), Text::own(left)])
}

fn row(station: &Station, wiring: &Wiring<'_>, lead: Lead<'_>) -> Option<Row> {
    let (to, from) = (wiring.nodes.get(lead.to)?, wiring.nodes.get(lead.from)?);
    let (part, cable, drawn) = (to.part, lead.cable, wiring.flow(lead.to));
    // What reaches a battery depends on what charges it, not on what it feeds.
    let is_charged = part.kind.value == PartKind::Battery;
    let left = wiring.left(lead.to).filter(|_| drawn > Current::grains(0) && !is_charged);
    let lost = lost(cable, drawn).filter(|_| drawn > Current::grains(0));
    let cell = |key, words: String| CABLES.cell(key, Text::own(words));
    let unknown = || if is_charged { "charging: not reckoned" } else { "not known" }.to_owned();
    let cells = vec![
        CABLES.cell("to", Text::plain(part.name.as_str(), part.name.span)),
        cell("from", from.part.name.to_string()),
        cell("plug", cable.plug.as_ref().map_or_else(|| "not given".to_owned(), |plug| plug.to_string())),
        cell("wire", cable_words(cable)),
        cell("fuse", cable.fuse.map_or_else(|| "none of its own".to_owned(), |fuse| fuse.value.to_string())),
        cell("lost", lost.map_or_else(|| "not known".to_owned(), |lost| lost.to_string())),
        cell("left", left.map_or_else(unknown, |left| format!("{} at {}", volts(left), amperes(drawn)))),
    ];
    Some(Row { label: String::new(), record: Some(subject(station)), span: part.name.span, cells })
}
