//! What a site allows and what one finds there: on the copy made for it, and on those of members who stand duty there.

use super::block::{Block, Paragraph, Role, Section, Text, WordEntry, WordList};
use super::position_words::position;
use crate::audience::{Holder, View};
use crate::ground::{At, Id, Power, Span};
use crate::plan::{Antenna, Channel, Clock, Duty, Place, Plan, TransmitLimit};
use crate::reckon::is_old;
use std::collections::BTreeSet;
use std::fmt::Display;

/// The places whose word binds who holds this copy: its own, or those where the member stands duty.
fn places<'a>(view: &View<'a>) -> Vec<&'a Place> {
    let plan = view.plan();
    match view.holder() {
        Some(Holder::Place(place)) => vec![place],
        Some(Holder::Member(_)) => {
            let own = view.own_duties().into_iter();
            let posts = own.filter_map(|duty| plan.posts.get(&duty.post.value)?.place.as_ref());
            let stood: BTreeSet<&Id> = posts.map(|place| &*place.value).collect();
            stood.into_iter().filter_map(|place| plan.places.named(place)).collect()
        }
        Some(Holder::Message(_)) | None => Vec::new(),
    }
}

/// The place of a copy made for one where nothing may be sent.
pub(super) fn silent_place<'a>(view: &View<'a>) -> Option<&'a Place> {
    let Some(Holder::Place(place)) = view.holder() else { return None };
    place.transmit.as_ref().is_some_and(TransmitLimit::is_nowhere).then_some(place)
}

/// The duties of this copy's member at places where nothing may be sent, and whether the member has no other duty.
pub(super) fn silent_duties<'a>(view: &View<'a>) -> (Vec<(&'a Duty, &'a Place)>, bool) {
    let (plan, own) = (view.plan(), view.own_duties());
    let place = |duty: &Duty| plan.places.get(&plan.posts.get(&duty.post.value)?.place.as_ref()?.value);
    let is_silent = |place: &&Place| place.transmit.as_ref().is_some_and(TransmitLimit::is_nowhere);
    let silent: Vec<_> = own.iter().filter_map(|duty| Some((*duty, place(duty).filter(is_silent)?))).collect();
    let is_all = !silent.is_empty() && silent.len() == own.len();
    (silent, is_all)
}

/// Where and when the member of this copy sends nothing: said once for each place, above all rows.
pub(super) fn silence(view: &View<'_>) -> Vec<Text> {
    let (duties, _) = silent_duties(view);
    let clock = Clock::of(view.plan());
    let mut places: Vec<(&Place, Vec<String>)> = Vec::new();
    for (duty, place) in duties {
        let when = clock.words(clock.period(duty.from.value, duty.to.value));
        match places.iter_mut().find(|(known, _)| known.id.value == place.id.value) {
            Some((_, times)) => times.push(when),
            None => places.push((place, vec![when])),
        }
    }
    let paragraph = |(place, times): (&Place, Vec<String>)| {
        let span = place.transmit.as_ref().map_or(place.span, |limit| limit.allowed.span);
        Text::strong(format!("Send nothing at {}", place.tactical.value), span)
            .then(format!(", where you are on duty {}: the site allows it nowhere", times.join(", ")))
    };
    places.into_iter().map(paragraph).collect()
}

/// The power of a channel as printed: where a site that binds the reader allows less, its own figure, with where.
pub(super) fn power_words(power: Option<Power>, channel: &Channel, view: &View<'_>) -> Option<String> {
    let own = power.map(|power| power.to_string());
    if channel.send.is_none() {
        return own;
    }
    let limit = |place: &Place| {
        let max = place.transmit.as_ref().filter(|limit| !limit.is_nowhere())?.max?.value;
        power.is_none_or(|power| max < power).then_some(max)
    };
    let limited = places(view).into_iter().filter_map(|place| Some((place, limit(place)?)));
    let words: Vec<String> = match view.holder() {
        Some(Holder::Place(_)) => limited.map(|(_, max)| format!("{max} here")).collect(),
        _ => {
            let elsewhere = limited.map(|(place, max)| format!("{max} at {}", place.tactical.value));
            own.clone().into_iter().chain(elsewhere).collect()
        }
    };
    if words.is_empty() { own } else { Some(words.join(", ")) }
}

/// What each site that binds the reader allows, to be minded before transmitting.
pub(super) fn cautions(view: &View<'_>) -> Vec<Text> {
    places(view).into_iter().filter_map(|place| caution(place, view)).collect()
}

fn caution(place: &Place, view: &View<'_>) -> Option<Text> {
    let name = format!("Transmitting at {}: ", place.tactical.value);
    if let Some(limit) = &place.transmit {
        return Some(Text::strong(name, limit.allowed.span).then(format!("{}.", limit_words(place, limit, view))));
    }
    let ask = "ask the site's own staff first; this plan knows of no agreement.";
    place.kind.value.is_medical().then(|| Text::strong(name, place.kind.span).then(ask))
}

/// `B-114 and roof only, at most 25 W, agreed by Clinical engineering on 2026-09-14`; where what a place of medical care agreed to is old
/// or undated, that it is to be asked.
fn limit_words(place: &Place, limit: &TransmitLimit, view: &View<'_>) -> String {
    let what = if limit.is_nowhere() {
        "nowhere".to_owned()
    } else {
        let most =
            limit.max.map_or_else(|| "greatest power unknown".to_owned(), |max| format!("at most {}", max.value));
        format!("{}, {most}", limit.allowed.value)
    };
    let day = limit.on.map_or_else(|| "day unknown".to_owned(), |on| format!("on {}", on.value));
    let issued = view.plan().edition.as_ref().map(|edition| edition.issued.value);
    let is_fresh = limit.on.zip(issued).is_some_and(|(on, issued)| !is_old(on.value, issued));
    let ask = match place.kind.value.is_medical() && !limit.is_nowhere() && !is_fresh {
        true if limit.on.is_some() => "; over a year old, ask the site's own staff first",
        true => "; ask the site's own staff first",
        false => "",
    };
    match &limit.agreed_by {
        Some(who) if limit.on.is_some() => format!("{what}, agreed by {} {day}{ask}", who.value),
        Some(who) => format!("{what}, agreed by {}, {day}{ask}", who.value),
        None => format!("{what}, by whom it was agreed is unknown, {day}{ask}"),
    }
}

/// The same as a text.
pub(super) fn limit_text(place: &Place, limit: &TransmitLimit, view: &View<'_>) -> Text {
    Text::plain(limit_words(place, limit, view), limit.allowed.span)
}

/// What one finds at the site of this copy; nothing on a copy for anybody else.
pub(super) fn facts(view: &View<'_>) -> Option<Section> {
    let Some(Holder::Place(place)) = view.holder() else { return None };
    let title = Text::plain(format!("At {}", place.tactical.value), place.tactical.span);
    let called = [
        fact("Name", Some(&place.name)),
        fact("Agency", place.agency.as_ref()),
        of_text("Position", place.position.as_ref().map(|at| position(view.plan(), at))),
        fact("Above sea level", place.elevation.as_ref()),
    ];
    let found = [
        fact("Entrance", place.entrance.as_ref()),
        fact("Room", place.room.as_ref()),
        fact("Antenna jack", place.jack.as_ref()),
        fact("Connector", place.connector.as_ref()),
    ];
    let mut lines = radio_lines(place, view);
    lines.push(match &place.visited_on {
        Some(day) => line("Last visited", day.value.to_string(), day.span),
        None => line("Last visited", "unknown".to_owned(), Span::NOWHERE),
    });
    let facts = Block::WordList(WordList { columns: vec![called.to_vec(), found.to_vec()] });
    let lines = lines.into_iter().map(|text| Block::Paragraph(Paragraph { text, role: Role::Body }));
    let blocks = std::iter::once(facts).chain(lines).collect();
    Some(Section { key: "site", title, blocks })
}

/// The antennas of a place, and what may be sent there.
pub(super) fn radio_lines(place: &Place, view: &View<'_>) -> Vec<Text> {
    let mut lines: Vec<Text> = place.antennas.iter().map(|antenna| antenna_line(antenna, view.plan())).collect();
    if lines.is_empty() {
        lines.push(line("Antenna", "unknown".to_owned(), place.span));
    }
    lines.push(match &place.transmit {
        Some(limit) => line("Transmitting", limit_words(place, limit, view), limit.allowed.span),
        None => line("Transmitting", "unknown: ask the site's own staff".to_owned(), place.span),
    });
    lines
}

/// What the plan does not say is said to be unknown.
fn fact<T: Display>(name: &str, value: Option<&At<T>>) -> WordEntry {
    of_text(name, value.map(|value| Text::plain(value.value.to_string(), value.span)))
}

fn of_text(name: &str, value: Option<Text>) -> WordEntry {
    let meaning = value.unwrap_or_else(|| Text::own("unknown"));
    WordEntry { word: Text::strong(name, meaning.span), meaning }
}

fn line(name: &str, words: String, span: Span) -> Text {
    Text::strong(format!("{name}: "), span).then(words)
}

/// `feed line loses 1.5 dB`; else its length and what its maker says of it; none where the plan says nothing.
fn feed_line_words(antenna: &Antenna) -> Option<String> {
    let length =
        antenna.feed_length.map_or_else(|| "feed line".to_owned(), |length| format!("feed line of {}", length.value));
    Some(match (antenna.feed_loss, antenna.feed_rate) {
        (Some(loss), _) => format!("{length} loses {}", loss.value),
        (None, Some(rate)) => format!("{length} loses {} in 100 m", rate.value),
        (None, None) if antenna.feed_length.is_some() => format!("{length}, loss unknown"),
        (None, None) => return None,
    })
}

/// `Antenna roof-2m: vertical, 2.15 dBi, 18 m above ground, feed line loses 1.5 dB, for MED 1`.
fn antenna_line(antenna: &Antenna, plan: &Plan) -> Text {
    Text::strong(format!("Antenna {}: ", antenna.id.value), antenna.id.span).then_text(antenna_words(antenna, plan))
}

/// The same without its name.
pub(super) fn antenna_words(antenna: &Antenna, plan: &Plan) -> Text {
    let mut parts: Vec<String> =
        antenna_facts(antenna).map(|(what, said)| said.unwrap_or_else(|| format!("{what} unknown"))).to_vec();
    let channels =
        antenna.channels.iter().filter_map(|id| plan.channels.get(&id.value)).map(|one| one.name.to_string());
    let repeaters =
        antenna.repeaters.iter().filter_map(|id| plan.repeaters.get(&id.value)).map(|one| one.name.to_string());
    let gateways =
        antenna.gateways.iter().filter_map(|id| plan.gateways.get(&id.value)).map(|one| one.name.to_string());
    let users: Vec<String> = channels.chain(repeaters).chain(gateways).collect();
    if !users.is_empty() {
        parts.push(format!("for {}", users.join(", ")));
    }
    Text::plain(parts.join(", "), antenna.id.span)
}

fn antenna_facts(antenna: &Antenna) -> [(&'static str, Option<String>); 4] {
    [
        ("kind", antenna.kind.as_ref().map(|kind| kind.to_string())),
        ("gain", antenna.gain.map(|gain| gain.value.to_string())),
        ("height", antenna.height.map(|height| format!("{} above ground", height.value))),
        ("feed line", feed_line_words(antenna)),
    ]
}

/// What the plan does not say of an antenna: `kind, gain`.
pub(super) fn antenna_lacks(antenna: &Antenna) -> Option<String> {
    let lacks: Vec<&str> =
        antenna_facts(antenna).into_iter().filter(|(_, said)| said.is_none()).map(|(what, _)| what).collect();
    (!lacks.is_empty()).then(|| lacks.join(", "))
}
