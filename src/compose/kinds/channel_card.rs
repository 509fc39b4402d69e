//! The pocket card: every channel, the nets, what to say, and what to mind before transmitting.

use crate::audience::View;
use crate::compose::block::{Align, Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::channel_list::{self, ListLine};
use crate::compose::channel_words::{
    function, hear, hear_tone, in_order, lost, minded, name_text, narrow, no_hear_tone, place, row_number, set_words,
    tied, warning, way,
};
use crate::compose::holding::{Holding, holds_for_all, own_radios, own_send, own_tone};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::site_words;
use crate::ground::{Audience, Lapse, Span};
use crate::plan::{Channel, Each, Linking, Meeting, Net, Network, Plan, Repeater, subject};
use crate::reckon::{following, onward, utc_words};
use crate::tables::Tables;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "channel-card",
    title: "Channel card",
    about: "every channel with all that is set by hand, nets, spelling words, cautions, the list as QR",
    layout: "fold-8",
    each: &[Each::Once, Each::Member, Each::Place],
    widest: Audience::Public,
    sections: &["channels", "nets", "say", "care", "scan"],
    tables: &[&CHANNELS],
    compose: Compose::View(compose),
};

/// Every channel of the plan.
const CHANNELS: TableKind = TableKind {
    key: "channels",
    columns: &[
        Column::must("row", "", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear MHz", Role::Hear),
        Column::must("send", "send MHz", Role::Send),
        Column::must("tone", "tone", Role::Tone).aligned(Align::End),
        Column::must("hear-tone", "hear tone", Role::Tone).aligned(Align::End),
        Column::may("spoken", "", Role::Body),
        Column::must("set", "", Role::Body),
        Column::may("way", "", Role::Body),
        Column::may("where", "", Role::Body),
        Column::may("use", "", Role::Body),
        Column::may("lost", "", Role::Body),
        Column::must("warn", "", Role::Warning),
    ],
    set: UsualSet::Rows {
        left: &["row", "name"],
        right: &["hear", "send", "tone"],
        below: &[(&[], &["hear-tone"]), (&["spoken", "way"], &["set"]), (&["where"], &["lost"]), (&["warn"], &[])],
    },
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let (rows, lines): (Vec<Row>, Vec<ListLine>) =
        in_order(view.plan()).into_iter().map(|channel| row(channel, view)).unzip();
    let table = CHANNELS.of(rows, "The plan has no channel.");
    let symbols = channel_list::symbols(&lines, view);
    let blocks = holds_for_all(view)
        .into_iter()
        .chain(site_words::silence(view))
        .chain([table])
        .chain(own_radios(view))
        .collect();
    let mut sections = vec![Section { key: "channels", title: Text::own("Channels"), blocks }];
    if !view.plan().nets.is_empty() || !view.plan().networks.is_empty() {
        sections.push(nets(view));
    }
    sections.push(saying(view));
    sections.push(care(view));
    if !symbols.is_empty() {
        sections.push(Section { key: "scan", title: Text::own("Channel list to scan"), blocks: symbols });
    }
    sections
}

/// A channel's row, and its line in the list to scan.
fn row(channel: &Channel, view: &View<'_>) -> (Row, ListLine) {
    let plan = view.plan();
    let holding = Holding::of(channel, view);
    let holding = holding.as_ref();
    let cell = |key, text| CHANNELS.cell(key, text);
    let label = row_number(channel);
    let number_span = channel.row.as_ref().map_or(channel.span, |row| row.span);
    let mut cells = vec![
        cell("row", Text::plain(label.clone(), number_span)),
        cell("name", name_text(channel)),
        ("hear", hear(channel)),
        ("send", own_send(channel, view, holding)),
    ];
    cells.extend(own_tone(channel, holding).map(|cell| ("tone", narrow(cell, channel.send_tone.value))));
    cells.extend(hear_tone(channel).map(|cell| ("hear-tone", narrow(cell, channel.hear_tone.value))));
    cells.push(cell("spoken", Text::plain(channel.spoken.as_str(), channel.spoken.span)));
    let set = set_words(channel, view, holding.is_none_or(Holding::sends));
    let all: Vec<&str> = no_hear_tone(channel).into_iter().chain(set.iter().map(String::as_str)).collect();
    cells.push(cell("set", Text::plain(all.join(", "), channel.signal.mode.span)));
    cells.push(cell("way", Text::plain(way(channel), channel.span)));
    cells.extend(place(channel, plan).map(|text| cell("where", text)));
    cells.extend(function(channel).map(|text| cell("use", text)));
    cells.extend(lost(channel, view).map(|text| cell("lost", text)));
    let warning = holding.map_or_else(|| warning(channel, view), |holding| holding.why(channel, view));
    cells.extend(minded(channel, warning).map(|text| cell("warn", text)));
    cells.retain(|(_, cell)| !cell.text.is_empty());
    let row = Row { label, record: Some(subject(channel)), span: channel.span, cells };
    let line = channel_list::line(channel, &row, set);
    (row, line)
}

fn nets(view: &View<'_>) -> Section {
    let nets = view.plan().nets.iter().flat_map(|net| net_blocks(net, view));
    let blocks =
        nets.chain(view.plan().networks.iter().flat_map(|network| network_blocks(network, view.plan()))).collect();
    Section { key: "nets", title: Text::own("Nets"), blocks }
}

fn net_blocks(net: &Net, view: &View<'_>) -> Vec<Block> {
    let name = if net.spoken.value == net.name.value {
        net.name.to_string()
    } else {
        format!("{}, \"{}\"", net.name.value, net.spoken.value)
    };
    let mut blocks = vec![Block::Heading(Text::plain(name, net.name.span))];
    blocks.extend(net.purpose.as_ref().map(|purpose| body(Text::plain(purpose.as_str(), purpose.span))));
    let legs: Vec<String> = net
        .legs
        .iter()
        .filter_map(|leg| {
            let channel = view.plan().channels.get(&leg.channel.value)?;
            let is_deaf = Holding::of(channel, view).is_some_and(|holding| holding.is_deaf());
            let not_heard = if is_deaf { " (not in your radio)" } else { "" };
            let status = channel.status.map(|status| format!(" ({})", status.value)).unwrap_or_default();
            Some(format!("{} {}{not_heard}{status}", leg.name, tied(channel.name.value.as_str())))
        })
        .collect();
    if !legs.is_empty() {
        blocks.push(body(Text::plain(legs.join(", "), net.span)));
    }
    let also = net.also.iter().filter_map(|id| view.plan().channels.get(id));
    let also: Vec<String> = also.map(|channel| tied(channel.name.as_str())).collect();
    if !also.is_empty() {
        blocks.push(body(Text::plain(format!("At the same time on {}", also.join(", ")), net.span)));
    }
    blocks.extend(meetings(net, view.plan()).map(body));
    blocks.extend(moving_on(net, view.plan()).map(body));
    blocks.extend(
        net.rejoin.as_ref().map(|rejoin| body(Text::plain(format!("If all fail: {}", rejoin.value), rejoin.span))),
    );
    blocks.extend(control(net, view.plan()).map(body));
    blocks
}

/// What is linked: the channels of each repeater, or its name where no channel goes through it.
fn network_blocks(network: &Network, plan: &Plan) -> Vec<Block> {
    let of = |repeater: &Repeater| {
        let is_through = |channel: &&&Channel| channel.repeater().is_some_and(|id| id.value == repeater.id.value);
        let in_order = in_order(plan);
        let names: Vec<String> =
            in_order.iter().filter(is_through).map(|channel| tied(channel.name.as_str())).collect();
        if names.is_empty() { format!("{} (no channel of this plan)", repeater.name.value) } else { names.join(", ") }
    };
    let members = network.members.value.iter().filter_map(|id| plan.repeaters.get(id)).map(of);
    let how = match (network.linked.value, network.needs_internet.value) {
        (Linking::Radio, false) => "linked by radio",
        (Linking::Radio, true) => "linked by radio, not without the internet",
        (Linking::Internet, true) => "linked by the internet",
        (Linking::Internet, false) => "linked as the internet is, by lines of its own",
    };
    let words = format!("Heard on all: {}; {how}.", members.collect::<Vec<_>>().join(", "));
    let alone = network.needs_internet.value.then(|| "Without the internet each repeater stands alone.");
    let heading = Block::Heading(Text::plain(network.name.as_str(), network.name.span));
    let all = [heading, body(Text::plain(words, network.span))].into_iter();
    all.chain(alone.map(|words| body(Text::plain(words, network.needs_internet.span)))).collect()
}

/// When the net meets: local time, and UTC for those who listen from elsewhere.
fn meetings(net: &Net, plan: &Plan) -> Option<Text> {
    let words = |meeting: &Meeting| {
        let lasts = meeting.lasts.map(|lasts| format!(" for {}", tied(&lasts.value.to_string()))).unwrap_or_default();
        let on = meeting.on.as_ref().and_then(|id| plan.channels.get(id));
        let on = on.map(|channel| format!(" on {}", tied(channel.name.as_str()))).unwrap_or_default();
        let utc = match utc_words(plan, meeting).as_slice() {
            [] => String::new(),
            [always] => format!(" (UTC {always})"),
            [winter, .., summer] => format!(" (UTC {winter}, in summer time {summer})"),
        };
        format!("{} {}{lasts}{on}{utc}", meeting.day.value, meeting.at.value)
    };
    let first = net.meetings.first()?;
    let all: Vec<String> = net.meetings.iter().map(words).collect();
    Some(Text::plain(format!("Meets {}, local time", all.join("; ")), first.span))
}

/// When to move on, and where to where that is not the net's order: what a row says counts before what the net says.
fn moving_on(net: &Net, plan: &Plan) -> Option<Text> {
    let rows: Vec<&Channel> = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel)).collect();
    let rows = || rows.iter().filter(|channel| channel.next.is_some() && following(net, channel).is_some());
    let times = net.trigger.as_ref().map(|trigger| Lapse::all_in(trigger.as_str())).unwrap_or_default();
    let is_other = |channel: &&&Channel| channel.after.is_some_and(|after| !times.contains(&after.value));
    let mut parts: Vec<String> = Vec::new();
    match &net.trigger {
        Some(trigger) if !rows().any(|channel| is_other(&channel)) => parts.push(trigger.to_string()),
        Some(_) => parts.extend(rows().filter_map(|channel| {
            Some(format!("no answer on {} for {}", tied(channel.name.as_str()), channel.after?.value))
        })),
        None => {}
    }
    parts.extend(rows().filter_map(|channel| {
        let (next, leg) = (onward(plan, net, channel)?, following(net, channel)?);
        let (from, to) = (tied(channel.name.as_str()), tied(next.name.as_str()));
        (next.id.value != leg.channel.value).then(|| format!("from {from} to {to}, as its row says"))
    }));
    let span = net.trigger.as_ref().map_or(net.span, |trigger| trigger.span);
    (!parts.is_empty()).then(|| Text::plain(format!("Move on: {}", parts.join(", ")), span))
}

/// Who controls the net, and where: the place is what one calls on the air.
fn control(net: &Net, plan: &Plan) -> Option<Text> {
    let control = net.control.as_ref()?;
    let post = plan.posts.get(&control.value)?;
    let place = post.place.as_ref().and_then(|place| plan.places.get(place));
    let place = place.map(|place| place.tactical.as_str()).filter(|place| *place != post.name.as_str());
    let place = place.map(|place| format!(", at {place}")).unwrap_or_default();
    Some(Text::plain(format!("Net control: {}{place}", post.name.value), control.span))
}

fn body(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

fn saying(view: &View<'_>) -> Section {
    let profile = view.profile();
    let spelling = &Tables::built_in().spelling;
    let list = |pairs: Vec<(char, &str)>| {
        pairs.iter().map(|(c, word)| format!("{c}\u{a0}{word}")).collect::<Vec<_>>().join(", ")
    };
    let own = match view.holder() {
        Some(_) => " The code after \"own\" is that of this copy alone: compare it with the coordinator.",
        None => "",
    };
    let blocks = vec![
        body(Text::own(profile.identification.clone())),
        body(Text::own(profile.control_operator.clone())),
        body(Text::own("FM ±5 is the radio's wide setting, FM ±2.5 its narrow one (kilohertz of deviation).")),
        Block::Heading(Text::own("Letters")),
        body(Text::own(list(spelling.letters().collect()))),
        Block::Heading(Text::own("Figures")),
        body(Text::own(list(spelling.figures().collect()))),
        Block::Heading(Text::own("Same card?")),
        body(Text::own(format!(
            "Read edition and code at the foot to another station with this card. If its code differs, the two say \
             different things: go by the one that is valid now. If the edition alone differs, channels and nets are the same.{own}"
        ))),
    ];
    Section { key: "say", title: Text::own("What to say"), blocks }
}

/// Cautions. General practice, no source: they send the reader to those who decide, and claim nothing more.
const CARE: [&str; 6] = [
    "Keep people away from a transmitting antenna; stay within the exposure limits for your power and distance.",
    "Never raise an antenna where it, its line or its mast could fall on a power line.",
    "Batteries: fuse at the battery, cover the terminals, charge in fresh air.",
    "Generators: outdoors only, away from doors, windows and air intakes.",
    "Medical equipment: transmit only where the site has agreed, at the power agreed.",
    "At a site its own staff decide. Local codes and licensed practice decide wiring, grounding and masts.",
];

fn care(view: &View<'_>) -> Section {
    let mut blocks: Vec<Block> = site_words::cautions(view).into_iter().map(body).collect();
    let precedence = &view.profile().precedence;
    if !precedence.is_empty() {
        blocks.push(body(Text::own(format!("Precedence: {}.", precedence.join(", ")))));
    }
    blocks.extend(CARE.iter().map(|caution| body(Text::plain(*caution, Span::NOWHERE))));
    Section { key: "care", title: Text::own("Before you transmit"), blocks }
}
