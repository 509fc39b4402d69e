//! Each band that the plan uses as a strip: what the law opens to whom, where repeaters may stand, where the channels sit.

use crate::audience::View;
use crate::compose::block::{
    Block, Cell, Column, Join, Paragraph, Role, Row, Section, Shade, Strip, StripArea, StripMark, Text,
};
use crate::compose::channel_words::{hear, hear_tone, in_order, name_text, occupied, send, service_word, tone};
use crate::compose::frequency_overview::overview;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::scale::{axis, dialled, edge, edge_unit, ticks};
use crate::ground::{Audience, Frequency, Stretch};
use crate::plan::{Channel, Each, subject};
use crate::reckon::{Open, open_to};
use crate::tables::{Band, Class};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "frequency-chart",
    title: "Frequency chart",
    about: "all channels on one strip, then each band that the plan uses: what the law opens to whom, where the channels sit",
    layout: "chart",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["bands", "channels"],
    tables: &[&FREQUENCIES],
    compose: Compose::View(compose),
};

/// Every channel by what it hears.
const FREQUENCIES: TableKind = TableKind {
    key: "frequencies",
    columns: &[
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear", Role::Hear),
        Column::must("send", "send", Role::Send),
        Column::must("tone", "tone", Role::Tone),
        Column::must("hear-tone", "hear tone", Role::Tone),
        Column::must("service", "service", Role::Body),
    ],
    set: UsualSet::GridOf(&["hear", "name", "send", "tone", "hear-tone", "service"]),
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let channels: Vec<&Channel> =
        in_order(view.plan()).into_iter().filter(|channel| channel.service.is_amateur()).collect();
    let is_used = |band: &&Band| channels.iter().any(|channel| uses(channel, &band.edges));
    let mut blocks: Vec<Block> =
        view.profile().bands.iter().filter(is_used).map(|band| Block::Strip(strip(view, band, &channels))).collect();
    let note = if blocks.is_empty() {
        "The plan has no amateur channel."
    } else {
        "White: open. Light grey: some emissions only. Dark grey: closed. Limits of width and power are not drawn."
    };
    blocks.insert(0, Block::Paragraph(Paragraph { text: Text::own(note), role: Role::Small }));
    if let Some(overview) = overview(view, &in_order(view.plan())) {
        blocks.insert(1, Block::Strip(overview));
    }
    let bands = Section { key: "bands", title: Text::own("Frequency chart"), blocks };
    let table = Section { key: "channels", title: Text::own("By frequency"), blocks: vec![by_frequency(view)] };
    vec![bands, table]
}

/// Every channel of the plan by what it hears, those outside the amateur bands included: for whoever hears something and asks what it is.
fn by_frequency(view: &View<'_>) -> Block {
    let mut channels = in_order(view.plan());
    channels.sort_by_key(|channel| channel.hear.value);
    let rows = channels.into_iter().map(|channel| frequency_row(channel, view)).collect();
    FREQUENCIES.of(rows, "The plan has no channel.")
}

fn frequency_row(channel: &Channel, view: &View<'_>) -> Row {
    let word = |words: &str| Cell { text: Text::plain(words, channel.span), role: Role::Word, base: None };
    // Kilohertz and megahertz share a column here: say which rows are dialled in kilohertz.
    let unit = if channel.side().is_some() { ", dial in kHz" } else { "" };
    let service = format!("{}{unit}", service_word(channel, view));
    let cells = vec![
        FREQUENCIES.cell("name", name_text(channel)),
        ("hear", hear(channel)),
        ("send", send(channel, view)),
        ("tone", tone(channel).unwrap_or_else(|| word("do not send"))),
        ("hear-tone", hear_tone(channel).unwrap_or_else(|| word("off"))),
        FREQUENCIES.cell("service", Text::plain(service, channel.span)),
    ];
    Row { label: String::new(), record: Some(subject(channel)), span: channel.span, cells }
}

fn uses(channel: &Channel, band: &Stretch) -> bool {
    std::iter::once(&channel.hear).chain(&channel.send).any(|frequency| band.has(frequency.value))
}

fn strip(view: &View<'_>, band: &Band, channels: &[&Channel]) -> Strip {
    let here: Vec<&&Channel> = channels.iter().filter(|channel| uses(channel, &band.edges)).collect();
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let mut areas = lanes(view, band);
    areas.extend(repeater_lane(view, band, &areas));
    Strip {
        key: band.id.clone(),
        title: Text::own(format!("{} band, {} to {}", band.name, edge(low), edge_unit(high))),
        subtitle: Text::own(subtitle(view, band)),
        low,
        high,
        ticks: ticks(low, high),
        is_even: true,
        areas,
        marks: here.iter().flat_map(|channel| marks(view, channel, band)).collect(),
        joins: here.iter().filter_map(|channel| join(channel, band)).collect(),
    }
}

/// Where the edges are from; that others come first there, where they do.
fn subtitle(view: &View<'_>, band: &Band) -> String {
    let sharing = band.sharing.as_ref().map(|rule| format!(" ({rule})")).unwrap_or_default();
    let status = match band.status.as_deref() {
        Some("secondary") => format!("; secondary: others come first{sharing}"),
        _ => String::new(),
    };
    format!("{}, {}{status}", band.cite.source, view.profile().rule_set)
}

/// Classes to which the same is open, from the lowest to the highest.
struct ClassLane<'a> {
    first: &'a Class,
    last: &'a Class,
    open: Vec<(Stretch, Open)>,
}

/// One lane for each class that the roster holds and the law treats differently; every class of the profile without a roster.
fn lanes(view: &View<'_>, band: &Band) -> Vec<StripArea> {
    let is_held = |class: &&Class| {
        let members = &view.plan().members;
        members.is_empty() || members.iter().any(|m| m.class.as_ref().is_some_and(|c| c.as_str() == class.id))
    };
    let held: Vec<&Class> = view.profile().classes.iter().filter(is_held).collect();
    let mut lanes: Vec<ClassLane<'_>> = Vec::new();
    for class in held {
        let open = open_to(view.profile(), class, &band.edges);
        match lanes.last_mut() {
            Some(lane) if lane.open == open => lane.last = class,
            _ => lanes.push(ClassLane { first: class, last: class, open }),
        }
    }
    let highest = lanes.len().saturating_sub(1);
    let mut areas = Vec::new();
    for (number, ClassLane { first, last, open }) in lanes.into_iter().enumerate() {
        let lane = u8::try_from(number).unwrap_or(u8::MAX);
        let name = match (first.id == last.id, number == highest) {
            (true, _) => format!("{} may send", first.name),
            (false, true) => format!("{} or higher may send", first.name),
            (false, false) => format!("{} to {} may send", first.name, last.name),
        };
        areas.extend(open.into_iter().map(|(stretch, what)| area(stretch, lane, &name, what)));
    }
    areas
}

fn area(stretch: Stretch, lane: u8, name: &str, what: Open) -> StripArea {
    let (shade, label) = match what {
        Open::Closed => (Shade::Closed, "closed".to_owned()),
        Open::Some(words) => (Shade::Limited, words),
        Open::All => (Shade::Open, "all modes".to_owned()),
    };
    StripArea {
        from: axis(stretch.low()),
        to: axis(stretch.high()),
        lane,
        lane_name: name.to_owned(),
        shade,
        label: Text::own(label),
    }
}

/// Where a repeater may stand; no lane on a band that has no such stretch at all.
fn repeater_lane(view: &View<'_>, band: &Band, above: &[StripArea]) -> Vec<StripArea> {
    let lane = above.iter().map(|area| area.lane + 1).max().unwrap_or(0);
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let mut areas: Vec<StripArea> = Vec::new();
    let mut from = low;
    let one = |from, to, shade, words: &str| StripArea {
        from,
        to,
        lane,
        lane_name: "repeaters".to_owned(),
        shade,
        label: Text::own(words),
    };
    for row in view.profile().repeater_segments.iter().filter(|row| row.edges.overlaps(&band.edges)) {
        let (start, end) = (axis(row.edges.low()).max(low), axis(row.edges.high()).min(high));
        if start > from {
            areas.push(one(from, start, Shade::Closed, "no repeater"));
        }
        areas.push(one(start, end, Shade::Open, "repeaters"));
        from = end;
    }
    if !areas.is_empty() && from < high {
        areas.push(one(from, high, Shade::Closed, "no repeater"));
    }
    areas
}

fn marks(view: &View<'_>, channel: &Channel, band: &Band) -> Vec<StripMark> {
    let is_one = channel.send.as_ref().is_some_and(|send| send.value == channel.hear.value);
    let hear_word = match (&channel.send, channel.side()) {
        (_, Some(side)) => side.word().to_owned(),
        (None, _) => "listen".to_owned(),
        (Some(_), _) if is_one => "both".to_owned(),
        _ => "hear".to_owned(),
    };
    let mut ends = vec![(channel.hear.value, hear_word)];
    ends.extend(channel.send.as_ref().filter(|_| !is_one).map(|send| (send.value, "send".to_owned())));
    let mark = |(frequency, word): (Frequency, String)| {
        let stretch = occupied(channel, frequency, view);
        let at = axis(frequency);
        let (from, to) = stretch.map_or((at, at), |stretch| (axis(stretch.low()), axis(stretch.high())));
        // Where one sends, the bracket below carries the words.
        let is_paired = word == "send" && channel.send.is_some() && band.edges.has(channel.hear.value);
        let name = if is_paired { Text::own("") } else { name_text(channel) };
        let words = if is_paired { String::new() } else { format!("{} {word}", dialled(frequency)) };
        StripMark { at, from, to, name, detail: Text::plain(words, channel.hear.span) }
    };
    ends.into_iter().filter(|(frequency, _)| band.edges.has(*frequency)).map(mark).collect()
}

fn join(channel: &Channel, band: &Band) -> Option<Join> {
    let send = channel.send.as_ref()?;
    let is_within = band.edges.has(send.value) && band.edges.has(channel.hear.value);
    (send.value != channel.hear.value && is_within).then(|| Join {
        down: axis(channel.hear.value),
        up: axis(send.value),
        label: Text::plain(format!("{}: send {}", channel.name.value, dialled(send.value)), send.span),
    })
}
