//! The nets of a plan: as a grid of the channels that each tries, and in words what the grid has no room for.

use super::block::{Block, Cell, Column, Paragraph, Role, Row, Section, Table, Text};
use super::channel_words::{in_order, tied};
use super::holding::Holding;
use super::kind::{TableKind, UsualSet};
use super::own_channels::own_nets;
use crate::audience::View;
use crate::ground::{Id, Lapse};
use crate::plan::{Channel, Clock, Linking, LocalTime, Meeting, Net, Network, Plan, Repeater, subject};
use crate::reckon::{Silence, following, onward, silence, unclear_meetings, utc_words};

/// Which channels each net tries, and when it moves on.
pub(super) const NETS: TableKind = TableKind {
    key: "nets",
    columns: &[
        Column::must("net", "net", Role::Body),
        Column::must("first", "first", Role::Body),
        Column::must("second", "second", Role::Body).where_used(),
        Column::must("third", "third", Role::Body).where_used(),
        Column::must("last", "last", Role::Body).where_used(),
        Column::must("change", "after", Role::Body).where_used(),
    ],
    set: UsualSet::Rows {
        left: &["net"],
        right: &[],
        below: &[(&["first", "second", "third", "last"], &["change"])],
        above: (&[], &[]),
        like: None,
    },
};

/// The legs of a net in the words of the grid.
const LEGS: [(&str, &str); 4] =
    [("primary", "first"), ("alternate", "second"), ("contingency", "third"), ("emergency", "last")];

/// The grid, and whether it has a channel that no radio of the holder hears.
pub(super) fn grid(view: &View<'_>) -> Option<(Table, bool)> {
    let nets: Vec<&Net> = view.plan().nets.iter().collect();
    if nets.is_empty() {
        return None;
    }
    let own = own_nets(view);
    let is_own = |net: &Net| own.iter().any(|known| known.id.value == net.id.value);
    let mut table = NETS.table(nets.iter().map(|net| row(net, view)).collect(), "");
    table.own = nets.iter().enumerate().filter(|(_, net)| is_own(net)).map(|(place, _)| place).collect();
    let legs = nets.iter().flat_map(|net| &*net.legs).filter_map(|leg| view.plan().channels.get(&leg.channel.value));
    let is_deaf = legs.into_iter().any(|channel| is_deaf(channel, view));
    Some((table, is_deaf))
}

fn is_deaf(channel: &Channel, view: &View<'_>) -> bool {
    Holding::of(channel, view).is_some_and(|holding| holding.is_deaf())
}

fn row(net: &Net, view: &View<'_>) -> Row {
    let mut cells: Vec<(&'static str, Cell)> = vec![NETS.cell("net", Text::strong(short_name(net), net.name.span))];
    for leg in net.legs.iter() {
        let column = LEGS.iter().find(|(name, _)| *name == leg.name).map(|(_, column)| *column);
        let (Some(column), Some(channel)) = (column, view.plan().channels.get(&leg.channel.value)) else { continue };
        let name = tied(channel.name.as_str());
        let name = if is_deaf(channel, view) { format!("({name})") } else { name };
        cells.push(NETS.cell(column, Text::plain(name, leg.channel.span)));
    }
    cells.extend(change(net, view.plan()).map(|text| NETS.cell("change", text)));
    Row { label: String::new(), record: Some(subject(net)), span: net.span, cells }
}

/// A net's name without the word that stands over the column.
pub(super) fn short_name(net: &Net) -> String {
    let name = net.name.as_str();
    name.strip_suffix(" net").or_else(|| name.strip_suffix(" Net")).unwrap_or(name).to_owned()
}

/// When the net leaves its first channel: what its row says, else the first time that the net's words name, else those words.
fn change(net: &Net, plan: &Plan) -> Option<Text> {
    let of_row = first_wait(net, plan).map(|(after, span)| Text::plain(after.to_string(), span));
    let of_net = net.trigger.as_ref().map(|trigger| {
        let words = Lapse::all_in(trigger.as_str()).first().map_or_else(|| trigger.to_string(), Lapse::to_string);
        Text::plain(words, trigger.span)
    });
    of_row.or(of_net)
}

/// How long one waits on a net's first channel by its row, where that leads on.
pub(super) fn first_wait(net: &Net, plan: &Plan) -> Option<(Lapse, crate::ground::Span)> {
    let channel = plan.channels.get(&net.legs.first()?.channel.value)?;
    let leads_on = channel.next.is_some() && following(net, channel).is_some();
    channel.after.filter(|_| leads_on).map(|after| (after.value, after.span))
}

/// `on CMD 1`, or `on TAC 1, where all are by then`: where whoever takes a net over speaks.
pub(super) fn taken_on(silence: &Silence<'_>) -> String {
    let moved = if silence.has_moved { ", where all are by then" } else { "" };
    format!("on {}{moved}", tied(silence.on.name.as_str()))
}

/// Of a net that names nobody who takes it over: where all go, and after how long.
pub(super) fn goes_alone(silence: &Silence<'_>) -> String {
    match silence.moves {
        Some((to, Some(after))) => format!("after {after} all go to {}", tied(to.name.as_str())),
        Some((to, None)) => {
            format!("all go to {}; after how long is UNKNOWN: ask at check-in", tied(to.name.as_str()))
        }
        None => format!("there is no other channel: stay on {}", tied(silence.on.name.as_str())),
    }
}

/// What each net is for, when it moves on where the grid's time does not say it, what is done when all fails, and who controls it.
pub(super) fn details(view: &View<'_>) -> Option<Section> {
    let plan = view.plan();
    let paragraph = |net: &Net| {
        let is_other = !net.spoken.as_str().eq_ignore_ascii_case(net.name.as_str());
        let spoken = is_other.then(|| Text::plain(format!("\"{}\"", net.spoken.value), net.spoken.span));
        let purpose = net.purpose.as_ref().map(|purpose| Text::plain(purpose.as_str(), purpose.span));
        let rejoin =
            net.rejoin.as_ref().map(|rejoin| Text::plain(format!("if all fail, {}", rejoin.value), rejoin.span));
        let when = meetings(net, plan).into_iter().chain(also(net, plan)).chain(off_the_air(net, plan));
        let parts = spoken.into_iter().chain(purpose).chain(when);
        let parts = parts.chain(moving_on(net, plan)).chain(rejoin).chain(control(net, view));
        let mut parts = parts.peekable();
        // A net of which nothing else is to be said stands in the grid.
        parts.peek()?;
        let mut text = Text::strong(short_name(net), net.name.span);
        for (place, part) in parts.enumerate() {
            text = text.then(if place == 0 { ": " } else { "; " });
            // The longest is the one to shorten.
            text.span = part.span;
            text = text.then_text(part);
        }
        Some(Block::Paragraph(Paragraph { text, role: Role::Body }))
    };
    let networks = plan.networks.iter().map(|known| network(known, plan));
    let blocks: Vec<Block> = plan.nets.iter().filter_map(paragraph).chain(networks).collect();
    (!blocks.is_empty()).then(|| Section { key: "nets", title: Text::own("Nets"), blocks })
}

/// What is linked: the channels of each repeater, or its name where no channel goes through it.
fn network(network: &Network, plan: &Plan) -> Block {
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
    let alone = network.needs_internet.value.then_some(" Without the internet each repeater stands alone.");
    let text = Text::strong(network.name.as_str(), network.name.span).then(": ").then(words).then(alone.unwrap_or(""));
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

/// When the net meets: local time, and UTC for those who listen from elsewhere.
pub(super) fn meetings(net: &Net, plan: &Plan) -> Option<Text> {
    let words = |meeting: &Meeting| {
        let lasts = meeting.lasts.map(|lasts| format!(" for {}", tied(&lasts.value.to_string()))).unwrap_or_default();
        let on = meeting.on.as_ref().and_then(|id| plan.channels.get(id));
        let on = on.map(|channel| format!(" on {}", tied(channel.name.as_str()))).unwrap_or_default();
        let utc = match utc_words(plan, meeting).as_slice() {
            [] => String::new(),
            [always] => format!(" (UTC {always})"),
            [winter, .., summer] => format!(" (UTC {winter}, in summer time {summer})"),
        };
        let unclear: String = unclear_meetings(plan, meeting).into_iter().map(|time| unclear(plan, time)).collect();
        format!("{} {}{lasts}{on}{utc}{unclear}", meeting.day.value, meeting.at.value)
    };
    let first = net.meetings.first()?;
    let all: Vec<String> = net.meetings.iter().map(words).collect();
    Some(Text::plain(format!("meets {}, local time", all.join("; ")), first.span))
}

/// What counts in a night in which clocks show the time of a meeting twice, or never.
fn unclear(plan: &Plan, time: LocalTime) -> String {
    let clock = Clock::of(plan);
    let (meant, day) = (clock.instant(time), time.as_naive().date());
    match clock.readings(time).as_slice() {
        [first, second, ..] => {
            let [first, second] = [first, second].map(|at| clock.time_and_utc(*at));
            format!(", on {day} it comes twice: {first} counts, not {second}")
        }
        _ => format!(", on {day} it never comes: {} counts", clock.time(meant)),
    }
}

/// Channels on which it meets at the same time.
fn also(net: &Net, plan: &Plan) -> Option<Text> {
    let names = net.also.iter().filter_map(|id| plan.channels.get(id)).map(|channel| tied(channel.name.as_str()));
    let names: Vec<String> = names.collect();
    (!names.is_empty()).then(|| Text::plain(format!("at the same time on {}", names.join(", ")), net.span))
}

/// Which of its channels are not on the air.
fn off_the_air(net: &Net, plan: &Plan) -> Option<Text> {
    let legs = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel));
    let off = legs.filter_map(|channel| Some(format!("{} {}", tied(channel.name.as_str()), channel.status?.value)));
    let off: Vec<String> = off.collect();
    (!off.is_empty()).then(|| Text::plain(off.join(", "), net.span))
}

/// When to move on, and where to where that is not the net's order: what a row says counts before what the net says.
fn moving_on(net: &Net, plan: &Plan) -> Option<Text> {
    let rows: Vec<&Channel> = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel)).collect();
    let rows = || rows.iter().filter(|channel| channel.next.is_some() && following(net, channel).is_some());
    let times = net.trigger.as_ref().map(|trigger| Lapse::all_in(trigger.as_str())).unwrap_or_default();
    let is_other = |channel: &&&Channel| channel.after.is_some_and(|after| !times.contains(&after.value));
    let mut parts: Vec<String> = Vec::new();
    match &net.trigger {
        Some(trigger) if !rows().any(|channel| is_other(&channel)) => {
            // One silence and nothing else stands in the grid already.
            let is_said = times.len() == 1 && !trigger.as_str().contains([',', ';']);
            parts.extend((!is_said).then(|| trigger.to_string()));
        }
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
    (!parts.is_empty()).then(|| Text::plain(format!("move on: {}", parts.join(", ")), span))
}

/// Who controls the net, and where: the place is what one calls on the air. Whoever stands where control falls to next is told so.
fn control(net: &Net, view: &View<'_>) -> Option<Text> {
    let plan = view.plan();
    let control = net.control.as_ref()?;
    let post = plan.posts.get(&control.value)?;
    let place = post.place.as_ref().and_then(|place| plan.places.get(place));
    let place = place.map(|place| place.tactical.as_str()).filter(|place| !post.name.as_str().starts_with(place));
    let place = place.map(|place| format!(", at {place}")).unwrap_or_default();
    let is_own = |next: &Id| view.own_duties().iter().any(|duty| *duty.post.value == *next);
    let next = net.alternate_control.as_ref().filter(|next| is_own(&next.value));
    let after = net.control_after.map(|after| format!(" after {}", after.value)).unwrap_or_default();
    let on = silence(plan, net).map(|silence| format!(", {}", taken_on(&silence))).unwrap_or_default();
    let next = next.map(|_| format!(", if silent{after} you{on}")).unwrap_or_default();
    Some(Text::plain(format!("control {}{place}{next}", post.name.value), control.span))
}
