//! The cables of a station: what they connect, wire, length, fuse, and the voltage that is left at their end.

use crate::audience::View;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{BATTERY_CAUTION, CABLE_CAUTION, amperes, body, cable_words, small, stations, volts};
use crate::ground::{Audience, Current};
use crate::plan::{Each, Station, subject};
use crate::reckon::{WiredPart, Wiring, lost};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "dc-sheet",
    title: "Cables and fuses",
    about: "the cables of each station to pack: from where to where, connector, wire, length, fuse, and the voltage left at the end under load",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["cables", "no-cables"],
    tables: &[&CABLES],
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

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = stations(view).into_iter().map(|station| section(view, station)).collect();
    if sections.is_empty() {
        let blocks = vec![body(Text::own("The plan has no station here."))];
        sections.push(Section { key: "no-cables", title: Text::own("Cables and fuses"), blocks });
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.extend([small(CABLE_CAUTION), small(BATTERY_CAUTION)]);
    }
    sections
}

fn section(view: &View<'_>, station: &Station) -> Section {
    let wiring = Wiring::of(view.plan(), station);
    let rows = wiring.drawn.iter().filter_map(|(at, _)| {
        let node = wiring.nodes.get(*at)?;
        Some(row(station, (&wiring, node), *at)).filter(|_| node.feeder.is_some())
    });
    let table = CABLES.of(rows.collect(), "Nothing of it is fed by a cable.");
    let said = Text::own(
        "Pack one cable for each line. Lost: by this cable, there and back. Left: after it and all before it. Both while all of the station draws its most at once.",
    );
    Section {
        key: "cables",
        title: Text::plain(station.name.as_str(), station.name.span),
        blocks: vec![body(said), table],
    }
}

fn row(station: &Station, (wiring, node): (&Wiring<'_>, &WiredPart<'_>), at: usize) -> Row {
    let drawn = wiring.flow(at);
    let part = node.part;
    let from = wiring.feeder(node).map_or("nothing", |feeder| feeder.part.name.as_str());
    let (lost, left) = (lost(part, drawn), wiring.left(at).filter(|_| drawn > Current::grains(0)));
    let cell = |key, words: String| CABLES.cell(key, Text::own(words));
    let unknown = || "not known".to_owned();
    let cells = vec![
        CABLES.cell("to", Text::plain(part.name.as_str(), part.name.span)),
        cell("from", from.to_owned()),
        cell("plug", part.plug.as_ref().map_or_else(|| "not given".to_owned(), |plug| plug.to_string())),
        cell("wire", cable_words(part)),
        cell("fuse", part.fuse.map_or_else(|| "none of its own".to_owned(), |fuse| fuse.value.to_string())),
        cell("lost", lost.map_or_else(unknown, |lost| lost.to_string())),
        cell("left", left.map_or_else(unknown, |left| format!("{} at {}", volts(left), amperes(drawn)))),
    ];
    Row { label: String::new(), record: Some(subject(station)), span: part.name.span, cells }
}
