//! What radios at one site do to each other: isolation between those of one band, products and harmonics of what sends there on a
//! frequency axis and as a table.

use crate::audience::{Holder, View};
use crate::compose::block::{Block, Cell, Column, FlagSign, Paragraph, Role, Row, Section, Strip, StripFlag, Text};
use crate::compose::channel_words::tied;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::minus::with_minus;
use crate::compose::scale::{axis, dialled, edge, edge_unit, ticks, unit_word};
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
        Column::must("wide", "width up to", Role::Body),
        Column::must("order", "kind", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What the figures are and are not.
const NOTE: &str = "Isolation: by how much a transmitter must be kept from a receiver so that it does not block it (common practice, near −25 dBm); an estimate. \
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
    if let Some(last) = sections.last_mut() {
        last.blocks.extend([small(REMEDIES), small(NOTE)]);
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
    let pairs = pairs(site, place, view.profile());
    let (shown, rest) = nearest(&hits);
    let mut blocks = vec![Block::Paragraph(Paragraph { text: finding(site, &pairs, &shown), role: Role::Body })];
    blocks.extend(isolation(pairs));
    // What was only counted is no nearer than the last that was kept of its receiver.
    let counted = [&mixed.more, &harmonics.more].into_iter().any(|more| more.iter().any(|count| *count > 0));
    let last_kept = hits.chunk_by(|a, b| a.receiver == b.receiver).filter(|_| counted);
    let last_kept = last_kept.filter(|of| of.len() >= KEPT).filter_map(|of| of.get(KEPT - 1)).map(|hit| hit.distance);
    let least = rest.iter().map(|hit| hit.distance).chain(last_kept).min();
    if !shown.is_empty() {
        blocks.push(products(site, shown));
    }
    if let (Some(least), count @ 1..) = (least, more + rest.len()) {
        let text = format!("And {}, none nearer than {}.", plural(count, "more possible product"), Width::hertz(least));
        blocks.push(Block::Paragraph(Paragraph { text: Text::own(text), role: Role::Body }));
    }
    blocks.extend(strips(view, place, site, &hits).into_iter().map(Strip::block));
    blocks.extend([inventory("Sends here", &site.senders), inventory("Hears here", here)]);
    Section {
        key: "site",
        title: Text::plain(format!("Interference at {}", place.tactical.value), place.tactical.span),
        blocks,
    }
}

/// What matters first: how much isolation is missing at most, and the product that comes nearest.
fn finding(site: &Site, pairs: &[Pair<'_>], shown: &[&Hit]) -> Text {
    let worst = pairs.iter().filter_map(|pair| Some((pair.missing()?, pair))).max_by_key(|(missing, _)| *missing);
    let text = match worst {
        None if pairs.is_empty() => Text::own("No two radios here share a band."),
        None => Text::strong("No isolation is missing", Span::NOWHERE)
            .then(" between radios of one band, by what the plan shows."),
        Some((missing, pair)) => {
            let count = pairs.iter().filter(|pair| pair.missing().is_some()).count();
            let (from, to) = (tied(&pair.sender.name), tied(&pair.receiver.name));
            let said = match pair.shown {
                Kept::Nothing => format!("how well {from} is kept from {to} is unknown"),
                Kept::Reckoned(_) | Kept::Measured(_) => {
                    format!("at most {}, from {from} to {to}", decibels_needed(missing))
                }
            };
            Text::strong(format!("Isolation is missing between {}", plural(count, "pair")), Span::NOWHERE)
                .then(format!(": {said}."))
        }
    };
    match shown.first().and_then(|hit| Some((hit, site.receivers.get(hit.receiver)?))) {
        None => text.then(" No product and no harmonic of what sends here falls on a receiver here."),
        Some((hit, receiver)) => {
            let count = plural(shown.len(), "possible product");
            let near = format!("the nearest {} from {}", Width::hertz(hit.distance), tied(&receiver.name));
            text.then(" ").then_strong(count).then(format!(" listed, {near}."))
        }
    }
}

/// What stands there, so that the reader sees what the figures rest on.
fn inventory<'a>(what: &str, ends: impl IntoIterator<Item = &'a SiteEnd>) -> Block {
    let list: Vec<String> = ends.into_iter().map(|end| format!("{} {}", end.name, end.signal.at.to_mhz())).collect();
    let words = if list.is_empty() { "nothing".to_owned() } else { list.join(", ") };
    Block::Paragraph(Paragraph { text: Text::own(format!("{what}, center in MHz: {words}.")), role: Role::Body })
}

/// What is needed between radios of one band, what the plan shows, and what is missing; nothing where no two share a band. Receivers of
/// which all the same is said stand in one row.
fn isolation(mut pairs: Vec<Pair<'_>>) -> Vec<Block> {
    if pairs.is_empty() {
        return Vec::new();
    }
    // Those of which most is missing first; where not all have room, they stand here.
    pairs.sort_by_key(|pair| std::cmp::Reverse(pair.missing()));
    let mut rows: Vec<(Vec<String>, Vec<Cell>, Span)> = Vec::new();
    let mut listed = 0;
    for pair in &pairs {
        let (cells, heard) = (isolation_cells(pair), tied(&pair.receiver.name));
        let alike = rows.iter().position(|(_, known, _)| *known == cells);
        let is_full = rows.len() == ROWS;
        match alike.and_then(|at| rows.get_mut(at)) {
            Some((hears, ..)) => hears.push(heard),
            None if is_full => break,
            None => rows.push((vec![heard], cells, pair.receiver.span)),
        }
        listed += 1;
    }
    let keys = ["sends", "needed", "shown", "missing", "filter"];
    let row = |(hears, cells, span): (Vec<String>, Vec<Cell>, Span)| {
        let mut cells: Vec<(&'static str, Cell)> = keys.into_iter().zip(cells).collect();
        cells.insert(1, ISOLATION.cell("hears", Text::plain(hears.join(", "), span)));
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    let table = ISOLATION.of(rows.into_iter().map(row).collect(), "");
    let mut blocks = vec![Block::Heading(Text::own("Isolation between radios of one band")), table];
    if listed < pairs.len() {
        let first = pairs.get(listed).and_then(Pair::missing);
        let least = first.map_or_else(|| "nothing".to_owned(), decibels_needed);
        let more = plural(pairs.len() - listed, "more pair");
        let text = format!("And {more}, of none of which more than {least} is missing.");
        blocks.push(Block::Paragraph(Paragraph { text: Text::own(text), role: Role::Body }));
    }
    blocks
}

/// All that is said of a pair but what it hears.
fn isolation_cells(pair: &Pair<'_>) -> Vec<Cell> {
    let cell = |key, words: String, span| ISOLATION.cell(key, Text::plain(words, span)).1;
    let sender = pair.sender;
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
    vec![
        cell("sends", format!("{}, {}{taken}", sender.name, pair.power), sender.span),
        cell("needed", decibels_needed(pair.needed), sender.span),
        cell("shown", shown, sender.span),
        cell("missing", missing, sender.span),
        cell("filter", filter, pair.filter.map_or(sender.span, |filter| filter.span)),
    ]
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
        // Only what a product comes near matters here.
        let is_hit = |index: usize| closest.keys().any(|(receiver, _)| *receiver == index);
        let near = here.iter().filter(|(index, _)| is_hit(*index));
        let mut flags: Vec<StripFlag> = near.map(|(_, end)| receiver_mark(end)).collect();
        flags.extend(closest.values().filter_map(|hit| product_mark(site, hit, low, high)));
        flags.sort_by_key(|flag| flag.at);
        let (low, high) = zoomed(&flags, low, high);
        strips.push(Strip {
            key: format!("{}-{}", place.id.value, band.id),
            title: Text::own(band.name.clone()),
            notes: vec![
                Text::own(format!("{} to {}", edge(low), edge_unit(high))),
                Text::own("receivers that a product comes near, and the closest of each kind"),
            ],
            crowded: Text::own("in full: the table"),
            unit: unit_word(low).to_owned(),
            low,
            high,
            ticks: ticks(low, high),
            is_even: true,
            flags,
            ..Strip::default()
        });
    }
    strips
}

/// The part of a band that matters: from the first flag to the last, with as much beside them, to whole tens of kilohertz.
fn zoomed(flags: &[StripFlag], low: i64, high: i64) -> (i64, i64) {
    let from = flags.iter().map(|flag| flag.from).min().unwrap_or(low);
    let to = flags.iter().map(|flag| flag.to).max().unwrap_or(high);
    let beside = ((to - from) / 4).max(EDGE_STEP);
    let down = (from - beside).div_euclid(EDGE_STEP) * EDGE_STEP;
    let up = (to + beside + EDGE_STEP - 1).div_euclid(EDGE_STEP) * EDGE_STEP;
    (down.max(low), up.min(high))
}

/// An axis begins and ends at whole steps, in hertz.
const EDGE_STEP: i64 = 10_000;

fn receiver_mark(end: &SiteEnd) -> StripFlag {
    let (at, half) = (axis(end.signal.at), half(end.signal.width.as_hertz()));
    StripFlag {
        at,
        from: at - half,
        to: at + half,
        name: Text::plain(end.name.clone(), end.span),
        sign: FlagSign::Bar,
        number: String::new(),
        figure: Text::plain(dialled(end.signal.at), end.span),
        word: Text::own("hears"),
        detail: Text::default(),
    }
}

fn product_mark(site: &Site, hit: &Hit, low: i64, high: i64) -> Option<StripFlag> {
    let at = Frequency::hertz(hit.at)?;
    let half = half(hit.width);
    Some(StripFlag {
        at: axis(at).clamp(low, high),
        from: (axis(at) - half).max(low),
        to: (axis(at) + half).min(high),
        name: Text::own("product"),
        sign: FlagSign::Bar,
        number: String::new(),
        figure: Text::own(dialled(at)),
        word: Text::default(),
        detail: Text::own(with_minus(&site.formula(hit))),
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
