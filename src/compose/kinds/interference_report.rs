//! What radios at one site do to each other: isolation between those of one band, products and harmonics of what sends there on a
//! frequency axis and as a table.

use crate::audience::{Holder, View};
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Strip, StripMark, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::minus::with_minus;
use crate::compose::scale::{axis, dialled, edge_unit, ticks};
use crate::ground::{Audience, Frequency, Span, Width, plural};
use crate::plan::{Each, Place};
use crate::reckon::{Hit, KEPT, Kept, Pair, Site, SiteEnd, Sites, decibels_needed, decibels_shown, pairs};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "interference-report",
    title: "Interference report",
    about: "for each site where several transmitters stand: possible products and harmonics on an axis and as a table, and what helps",
    layout: "chart",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["none", "site"],
    tables: &[&ISOLATION, &PRODUCTS],
    compose: Compose::View(compose),
};

/// Radios of one band.
const ISOLATION: TableKind = TableKind {
    key: "isolation",
    columns: &[
        Column::must("sends", "sends", Role::Body),
        Column::must("hears", "meanwhile hears", Role::Body),
        Column::must("needed", "needed", Role::Body),
        Column::must("shown", "shown", Role::Body),
        Column::must("missing", "missing", Role::Body),
        Column::must("filter", "filter", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What may fall on a receiver.
const PRODUCTS: TableKind = TableKind {
    key: "products",
    columns: &[
        Column::must("receiver", "may fall on", Role::Body),
        Column::must("product", "product", Role::Body),
        Column::must("at", "MHz", Role::Body),
        Column::must("off", "away by", Role::Body),
        Column::must("wide", "up to wide", Role::Body),
        Column::must("order", "kind", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What the figures are and are not.
const NOTE: &str = "Isolation: what a transmitter must be kept from a receiver so that it does not block it (common practice, near −25 dBm); an estimate. \
                    Possible products: third order (2A − B, A + B − C), fifth order (3A − 2B) and harmonics of what can be keyed together here, each as wide \
                    as it can be. Whether one does harm depends on transmitters, filters and antennas, which are not known: try it by keying them together.";

/// What one can do. Common practice, no source.
const REMEDIES: &str = "What helps: move one of the channels; another band for one of them; antennas one above the other, further apart; a cavity or band-pass \
                        filter before the receiver; an isolator or low-pass filter behind the transmitter; less power; taking turns. Work on masts and feed lines is for \
                        those who are trained and allowed to do it, with the site's consent.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let is_wanted = |place: &&Place| match view.holder() {
        Some(Holder::Place(own)) => own.id.value == place.id.value,
        _ => true,
    };
    let all = Sites::asked_for(plan, view.profile(), &view.tables().modes);
    // Of a plan that was checked every signal can be reckoned.
    let sites = plan.places.iter().filter(is_wanted).filter_map(|place| Some((place, all.at(place).ok()?)));
    let busy: Vec<(&Place, Cow<'_, Site>)> = sites.filter(|(_, site)| site.is_busy()).collect();
    if busy.is_empty() {
        let text = Text::own("Nowhere can two transmitters be keyed together, by what the plan says.");
        let blocks = vec![Block::Paragraph(Paragraph { text, role: Role::Body })];
        return vec![Section { key: "none", title: Text::own("Interference report"), blocks }];
    }
    let small = |words: &str| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Small });
    let mut sections: Vec<Section> = busy.iter().map(|(place, site)| section(view, place, site)).collect();
    if let Some(first) = sections.first_mut() {
        first.blocks.insert(0, small(NOTE));
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.push(small(REMEDIES));
    }
    sections
}

fn section(view: &View<'_>, place: &Place, site: &Site) -> Section {
    let (mixed, harmonics) = (site.products(), site.harmonics());
    let more: usize = mixed.more.iter().chain(&harmonics.more).sum();
    let mut hits = mixed.kept.clone();
    hits.extend(harmonics.kept.iter().copied());
    hits.sort_unstable();
    let here: Vec<&SiteEnd> = site.receivers.iter().filter(|end| !end.is_distant).collect();
    let mut blocks = vec![inventory("Sends here", &site.senders), inventory("Hears here", here)];
    blocks.extend(isolation(view, place, site));
    blocks.extend(strips(view, place, site, &hits).into_iter().map(Block::Strip));
    let (shown, rest) = nearest(&hits);
    // What was only counted is no nearer than the last that was kept of its receiver.
    let counted = [&mixed.more, &harmonics.more].into_iter().any(|more| more.iter().any(|count| *count > 0));
    let last_kept = hits.chunk_by(|a, b| a.receiver == b.receiver).filter(|_| counted);
    let last_kept = last_kept.filter(|of| of.len() >= KEPT).filter_map(|of| of.get(KEPT - 1)).map(|hit| hit.distance);
    let least = rest.iter().map(|hit| hit.distance).chain(last_kept).min();
    blocks.push(products(site, shown));
    if let (Some(least), count @ 1..) = (least, more + rest.len()) {
        let text = format!("And {}, none nearer than {}.", plural(count, "more possible product"), Width::hertz(least));
        blocks.push(Block::Paragraph(Paragraph { text: Text::own(text), role: Role::Body }));
    }
    Section {
        key: "site",
        title: Text::plain(format!("Interference at {}", place.tactical.value), place.tactical.span),
        blocks,
    }
}

/// What stands there, so that the reader sees what the figures rest on.
fn inventory<'a>(what: &str, ends: impl IntoIterator<Item = &'a SiteEnd>) -> Block {
    let list: Vec<String> = ends.into_iter().map(|end| format!("{} {}", end.name, end.signal.at.to_mhz())).collect();
    let words = if list.is_empty() { "nothing".to_owned() } else { list.join(", ") };
    Block::Paragraph(Paragraph { text: Text::own(format!("{what}, middle in MHz: {words}.")), role: Role::Body })
}

/// What is needed between radios of one band, what the plan shows, and what is missing; nothing where no two share a band.
fn isolation(view: &View<'_>, place: &Place, site: &Site) -> Vec<Block> {
    let mut pairs = pairs(site, place, view.profile());
    if pairs.is_empty() {
        return Vec::new();
    }
    // Where not all have room, those of which most is missing stand here.
    let count = pairs.len();
    if count > ROWS {
        pairs.sort_by_key(|pair| std::cmp::Reverse(pair.missing()));
        pairs.truncate(ROWS);
    }
    let table = ISOLATION.of(pairs.iter().map(isolation_row).collect(), "");
    let mut blocks = vec![Block::Heading(Text::own("Isolation between radios of one band")), table];
    if count > ROWS {
        let least = pairs.last().and_then(Pair::missing).map_or_else(|| "nothing".to_owned(), decibels_needed);
        let text = format!("And {}, of none of which more than {least} is missing.", plural(count - ROWS, "more pair"));
        blocks.push(Block::Paragraph(Paragraph { text: Text::own(text), role: Role::Body }));
    }
    blocks
}

fn isolation_row(pair: &Pair<'_>) -> Row {
    let cell = |key, words: String, span| ISOLATION.cell(key, Text::plain(words, span));
    let (sender, receiver) = (pair.sender, pair.receiver);
    let taken = if pair.is_power_written { "" } else { " taken" };
    let shown = match pair.shown {
        Kept::Nothing => "unknown".to_owned(),
        Kept::Reckoned(tenths) => format!("about {} by distance", decibels_shown(tenths)),
        Kept::Measured(tenths) => format!("{} measured", decibels_shown(tenths)),
    };
    let missing = match (pair.shown, pair.missing()) {
        (_, None) => "nothing".to_owned(),
        (Kept::Nothing, Some(_)) => "unknown".to_owned(),
        (_, Some(tenths)) => decibels_needed(tenths),
    };
    let filter = pair.filter.map_or_else(|| "unknown".to_owned(), |filter| filter.to_string());
    let cells = vec![
        cell("sends", format!("{}, {}{taken}", sender.name, pair.power), sender.span),
        cell("hears", receiver.name.clone(), receiver.span),
        cell("needed", decibels_needed(pair.needed), sender.span),
        cell("shown", shown, sender.span),
        cell("missing", missing, sender.span),
        cell("filter", filter, pair.filter.map_or(sender.span, |filter| filter.span)),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

/// One strip for each band in which a receiver stands that a product may fall on.
fn strips(view: &View<'_>, place: &Place, site: &Site, hits: &[Hit]) -> Vec<Strip> {
    let mut strips = Vec::new();
    for band in &view.profile().bands {
        let here: Vec<(usize, &SiteEnd)> = site
            .receivers
            .iter()
            .enumerate()
            .filter(|(_, end)| band.edges.has(end.signal.at) && !end.is_distant)
            .collect();
        let is_here = |hit: &&Hit| here.iter().any(|(index, _)| *index == hit.receiver);
        // The closest product of each kind on each receiver: all of them stand in the table.
        let mut closest: BTreeMap<(usize, &str), &Hit> = BTreeMap::new();
        for hit in hits.iter().filter(is_here) {
            closest.entry((hit.receiver, hit.shape.order())).or_insert(hit);
        }
        if closest.is_empty() {
            continue;
        }
        let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
        let mut marks: Vec<StripMark> = here.iter().map(|(_, end)| receiver_mark(end)).collect();
        marks.extend(closest.values().filter_map(|hit| product_mark(site, hit, low, high)));
        marks.sort_by_key(|mark| mark.at);
        strips.push(Strip {
            key: format!("{}-{}", place.id.value, band.id),
            title: Text::own(format!("{} band, up to {}", band.name, edge_unit(high))),
            subtitle: Text::own("receivers here, and the closest product of each kind on each"),
            low,
            high,
            ticks: ticks(low, high),
            is_even: true,
            areas: Vec::new(),
            marks,
            joins: Vec::new(),
        });
    }
    strips
}

fn receiver_mark(end: &SiteEnd) -> StripMark {
    let (at, half) = (axis(end.signal.at), half(end.signal.width.as_hertz()));
    StripMark {
        at,
        from: at - half,
        to: at + half,
        name: Text::plain(end.name.clone(), end.span),
        detail: Text::plain(format!("{} hears", dialled(end.signal.at)), end.span),
    }
}

fn product_mark(site: &Site, hit: &Hit, low: i64, high: i64) -> Option<StripMark> {
    let at = Frequency::hertz(hit.at)?;
    let half = half(hit.width);
    Some(StripMark {
        at: axis(at).clamp(low, high),
        from: (axis(at) - half).max(low),
        to: (axis(at) + half).min(high),
        name: Text::own("product"),
        detail: Text::own(format!("{} {}", dialled(at), with_minus(&site.formula(hit)))),
    })
}

fn half(width: u64) -> i64 {
    i64::try_from(width / 2).unwrap_or(0)
}

/// Rows of a table of a site: what stands behind them is summed up, since nobody reads more.
const ROWS: usize = 200;

/// The products that are shown, the closest first, and the rest: the closest of each receiver, and the next up to [`ROWS`].
fn nearest(hits: &[Hit]) -> (Vec<&Hit>, Vec<&Hit>) {
    let firsts = hits.chunk_by(|a, b| a.receiver == b.receiver).filter_map(<[Hit]>::first);
    let room = ROWS.saturating_sub(firsts.clone().count());
    let mut others: Vec<&Hit> =
        hits.chunk_by(|a, b| a.receiver == b.receiver).flat_map(|of| of.iter().skip(1)).collect();
    others.sort_by_key(|hit| (hit.distance, **hit));
    let rest = others.split_off(room.min(others.len()));
    let mut shown: Vec<&Hit> = firsts.chain(others).collect();
    shown.sort_by_key(|hit| (hit.distance, **hit));
    (shown, rest)
}

/// Products, the closest first.
fn products(site: &Site, sorted: Vec<&Hit>) -> Block {
    let rows = sorted.into_iter().filter_map(|hit| row(site, hit)).collect();
    PRODUCTS.of(rows, "No product and no harmonic of what sends here falls on a receiver here.")
}

fn row(site: &Site, hit: &Hit) -> Option<Row> {
    let receiver = site.receivers.get(hit.receiver)?;
    let cell = |key, words: String| PRODUCTS.cell(key, Text::plain(words, receiver.span));
    let cells = vec![
        cell(
            "receiver",
            if receiver.is_distant { format!("{}, elsewhere", receiver.name) } else { receiver.name.clone() },
        ),
        cell("product", with_minus(&site.formula(hit))),
        cell("at", Frequency::hertz(hit.at)?.to_mhz()),
        cell("off", Width::hertz(hit.distance).to_string()),
        cell("wide", Width::hertz(hit.width).to_string()),
        cell("order", hit.shape.order().to_owned()),
    ];
    Some(Row { label: String::new(), record: None, span: Span::NOWHERE, cells })
}
