//! What an operator finds at a place: which door, room, jack and connector, whom to ask, what may be sent, who is near. What the plan does
//! not say is printed as unknown, in large words.

use crate::audience::{Holder, View};
use crate::compose::block::{Block, Cell, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::channel_words::{hear, in_order, name_text, power, row_number, send, tied, tone};
use crate::compose::duty_words::{local_words_alone, relieved_at, stood_by};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::net_calls::called_there;
use crate::compose::net_words::{goes_alone, taken_on};
use crate::compose::site_cautions::cautions;
use crate::compose::site_facts::site_facts;
use crate::compose::site_near::{NEAR, near};
use crate::compose::site_stations::{STATIONS, stations};
use crate::compose::site_words::power_words;
use crate::ground::{Audience, on_all_threads};
use crate::plan::{Channel, Clock, Each, Net, Place, TransmitLimit, subject};
use crate::reckon::{PathTrials, has_desk, nets_at, posts_at, reliefs, silence, stands_at, unheard_words};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "site-sheet",
    title: "Site sheet",
    about: "for each place: door, room, jack, connector, power, battery hours, whom to ask, what may be sent, channels, who stands there when, other posts near by with distance and bearing, cautions; what is unknown in large words",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["place", "radio", "stations", "people", "near", "cautions"],
    tables: &[&FACTS, &WORKED, &STATIONS, &STOOD, &NEAR],
    compose: Compose::View(compose),
};

/// What one finds.
const FACTS: TableKind = TableKind {
    key: "site-facts",
    columns: &[Column::must("what", "", Role::Body), Column::must("said", "", Role::Body)],
    set: UsualSet::Grid,
};

/// Channels there.
const WORKED: TableKind = TableKind {
    key: "site-channels",
    columns: &[
        Column::must("number", "no.", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear", Role::Hear),
        Column::must("send", "send", Role::Send),
        Column::must("tone", "tone", Role::Tone),
        Column::must("power", "power", Role::Body),
        Column::must("spoken", "said", Role::Body),
        Column::must("use", "use", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Who stands there.
const STOOD: TableKind = TableKind {
    key: "site-duties",
    columns: &[
        Column::must("post", "post", Role::Body),
        Column::must("when", "when, local", Role::Body),
        Column::must("who", "who", Role::Body),
        Column::must("relief", "relieved by", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// In the place of what the plan does not say.
const UNKNOWN: &str = "UNKNOWN: ask at the desk";
/// The same where nobody is known to sit at one.
const UNKNOWN_ALONE: &str = "UNKNOWN: ask the coordinator";

fn compose(view: &View<'_>) -> Vec<Section> {
    if let Some(Holder::Place(place)) = view.holder() {
        return of_place(place, view);
    }
    let sections = on_all_threads(view.plan().places.iter(), 1, |place| of_place(place, view)).concat();
    if sections.is_empty() {
        let none = say(Text::own("The plan has no place."), Role::Body);
        return vec![Section { key: "place", title: Text::own("Site sheets"), blocks: vec![none] }];
    }
    sections
}

fn of_place(place: &Place, view: &View<'_>) -> Vec<Section> {
    let mut sections = vec![found_there(place, view)];
    let standing = stations(place, |what| at(what, place), view);
    // Where repeaters stand and nobody has a post, no channel is worked.
    if standing.is_empty() || posts_at(view.plan(), place).next().is_some() || !place.monitors.is_empty() {
        sections.push(radio(place, view));
    }
    sections.extend(standing);
    sections.extend(people(place, view));
    sections.push(near(place, at("Near", place), view));
    sections.push(cautions(place, at("Mind", place)));
    sections
}

fn say(text: Text, role: Role) -> Block {
    Block::Paragraph(Paragraph { text, role })
}

/// A title that is told from those of other places in one file.
fn at(what: &str, place: &Place) -> Text {
    let word = if what == "Near" { "" } else { " at" };
    Text::plain(format!("{what}{word} {}", place.tactical.value), place.tactical.span)
}

fn found_there(place: &Place, view: &View<'_>) -> Section {
    let title = Text::plain(place.tactical.as_str(), place.tactical.span);
    let name = Text::plain(format!("{}, {}", place.name.value, place.code.value), place.name.span);
    let mut blocks = vec![say(name, Role::Body)];
    if place.visited_on.is_none() {
        blocks.push(Block::Heading(Text::strong("UNVISITED", place.span)));
        let what = "Nobody of the team has been there: look at everything before you need it.";
        blocks.push(say(Text::strong(what, place.span), Role::Warning));
    }
    let rows = site_facts(place, view).into_iter().map(|fact| {
        let what = FACTS.cell("what", Text::own(fact.what.clone()));
        let said = match fact.said {
            Some(said) => FACTS.cell("said", said),
            None => {
                let words = if fact.is_asked_there && has_desk(place) { UNKNOWN } else { UNKNOWN_ALONE };
                let mut cell = FACTS.cell("said", Text::strong(words, place.span));
                cell.1.role = Role::Title;
                cell
            }
        };
        Row { label: String::new(), record: Some(subject(place)), span: place.span, cells: vec![what, said] }
    });
    blocks.push(FACTS.of(rows.collect(), ""));
    Section { key: "place", title, blocks }
}

/// Antenna, what may be sent, and the channels.
fn radio(place: &Place, view: &View<'_>) -> Section {
    let nets = nets_there(place, view);
    let is_own = |channel: &Channel| used(channel, &nets).is_some();
    let is_heard = |channel: &Channel| place.monitors.iter().any(|id| *id.value == channel.id.value);
    let is_silent = place.transmit.as_ref().is_some_and(TransmitLimit::is_nowhere);
    let mut channels = in_order(view.plan());
    channels.retain(|channel| is_own(channel) || is_heard(channel));
    let rows = channels.iter().copied().map(|channel| {
        let silent = Cell { text: Text::own("do not send"), role: Role::Word, base: None };
        let role = used(channel, &nets).unwrap_or_else(|| "kept open there".to_owned());
        let mut cells = vec![
            WORKED.cell("number", Text::own(row_number(channel))),
            WORKED.cell("name", name_text(channel)),
            ("hear", hear(channel)),
            ("send", if is_silent { silent } else { send(channel, view) }),
        ];
        cells.extend(tone(channel).map(|tone| ("tone", tone)));
        cells.push(WORKED.cell("power", Text::plain(allowed(channel, place, view), channel.span)));
        cells.push(WORKED.cell("spoken", Text::plain(channel.spoken.as_str(), channel.spoken.span)));
        cells.push(WORKED.cell("use", Text::own(role)));
        Row { label: String::new(), record: Some(subject(channel)), span: channel.span, cells }
    });
    let mut blocks = vec![WORKED.of(
        rows.collect(),
        "No post of the plan stands here, so no net is its own: ask net control which channel to use.",
    )];
    blocks.extend(unheard(place, &channels, view));
    blocks.extend(nets.iter().map(|net| say(controlled(net, view), Role::Body)));
    // A net that is not worked there, and whose control falls to a post there.
    for net in taken_over(place, view).into_iter().filter(|net| !nets.iter().any(|own| own.id.value == net.id.value)) {
        blocks.push(say(falls_to_it(net, view), Role::Body));
    }
    Section { key: "radio", title: at("Radio", place), blocks }
}

/// `TAC 2: from Saint Brenn nothing was heard at Blood Bank, tried 2027-08-14 with 25 W.`, of each of its channels that was last tried so,
/// either way.
fn unheard(place: &Place, channels: &[&Channel], view: &View<'_>) -> Vec<Block> {
    let plan = view.plan();
    if plan.path_tests.is_empty() {
        return Vec::new();
    }
    let tried = PathTrials::of(plan);
    let of_channel = |channel: &&Channel| {
        let name = Text::strong(format!("{}: ", tied(channel.name.as_str())), channel.name.span);
        let tests = tried.unheard_at(&channel.id.value, &place.id.value).iter();
        let words = tests.map(|test| unheard_words(plan, test)).collect::<Vec<_>>().join("; ");
        (!words.is_empty()).then(|| say(name.then_strong(format!("{words}.")), Role::Warning))
    };
    channels.iter().filter_map(of_channel).collect()
}

/// The most that is sent there on a channel: what the site allows counts where that is less.
fn allowed(channel: &Channel, place: &Place, view: &View<'_>) -> String {
    let is_silent = place.transmit.as_ref().is_some_and(TransmitLimit::is_nowhere);
    if channel.send.is_none() || is_silent {
        return "none".to_owned();
    }
    if place.transmit.is_none() && place.kind.value.is_medical() {
        return "ask first".to_owned();
    }
    let own = power(channel, view);
    let words = match view.holder() {
        Some(Holder::Place(_)) => power_words(own, channel, view),
        _ => {
            let most = place.transmit.as_ref().and_then(|limit| limit.max).map(|max| max.value);
            own.into_iter().chain(most).min().map(|power| power.to_string())
        }
    };
    words.unwrap_or_else(|| "not said".to_owned())
}

/// `Medical net: control Alder General; after 1 min without it Willow Bend takes over on MED 1.`
fn controlled(net: &Net, view: &View<'_>) -> Text {
    let plan = view.plan();
    let text = Text::strong(format!("{}: ", net.name.value), net.name.span);
    let text = match net.control.as_ref().and_then(|id| plan.posts.get(&id.value)) {
        Some(post) => text.then("control ").then_text(called_there(post, plan)),
        None => text.then_strong("control UNKNOWN"),
    };
    let Some(silence) = silence(plan, net) else { return text.then(".") };
    let after =
        silence.after.map_or_else(|| "when it does not answer".to_owned(), |after| format!("after {after} without it"));
    match silence.next {
        Some(post) => text
            .then(format!("; {after} "))
            .then_text(called_there(post, plan))
            .then(format!(" takes over {}.", taken_on(&silence))),
        None => text
            .then(". Who takes over is ")
            .then_strong("UNKNOWN")
            .then(format!(": ask at check-in. Nobody does: {}.", goes_alone(&silence))),
    }
}

/// `Command net, on CMD 1: yours after 1 min without Operations desk.`
fn falls_to_it(net: &Net, view: &View<'_>) -> Text {
    let plan = view.plan();
    let on = silence(plan, net).map(|silence| format!(", {}", taken_on(&silence))).unwrap_or_default();
    let text = Text::strong(format!("{}{on}: ", net.name.value), net.name.span);
    let after = net
        .control_after
        .map_or_else(|| "yours without ".to_owned(), |after| format!("yours after {} without ", after.value));
    match net.control.as_ref().and_then(|id| plan.posts.get(&id.value)) {
        Some(control) => text.then(after).then_text(called_there(control, plan)).then("."),
        None => text.then("yours where nobody controls it."),
    }
}

/// The nets of which a post there takes control where it is silent, by id.
fn taken_over<'a>(place: &Place, view: &View<'a>) -> Vec<&'a Net> {
    let plan = view.plan();
    let is_there = |net: &&Net| {
        let next = net.alternate_control.as_ref().and_then(|id| plan.posts.get(&id.value));
        next.and_then(|post| post.place.as_ref()).is_some_and(|at| *at.value == place.id.value)
    };
    plan.nets.iter().filter(is_there).collect()
}

/// The nets that are worked there, by name.
fn nets_there<'a>(place: &'a Place, view: &View<'a>) -> Vec<&'a Net> {
    let plan = view.plan();
    let nets = posts_at(plan, place).flat_map(|post| nets_at(plan, post)).map(|(net, _)| net);
    let mut nets: Vec<&Net> = nets.collect();
    nets.sort_by_key(|net| (net.name.as_str(), &net.id.value));
    nets.dedup_by_key(|net| &net.id.value);
    nets
}

/// `Medical net: primary`; all nets that try a channel, or meet on it as well.
pub(super) fn used(channel: &Channel, nets: &[&Net]) -> Option<String> {
    let of = |net: &&Net| {
        let legs = net.legs.iter().map(|leg| (leg.name, &leg.channel));
        let all = legs.chain(net.also.iter().map(|also| ("as well", also)));
        let own = all.filter(|(_, id)| *id.value == channel.id.value);
        own.map(|(name, _)| format!("{}: {name}", net.name.value)).collect::<Vec<_>>()
    };
    let uses: Vec<String> = nets.iter().flat_map(of).collect();
    (!uses.is_empty()).then(|| uses.join(", "))
}

/// Who stands there when.
fn people(place: &Place, view: &View<'_>) -> Option<Section> {
    let plan = view.plan();
    let clock = Clock::of(plan);
    let posts: Vec<_> = posts_at(plan, place).collect();
    if posts.is_empty() {
        return None;
    }
    let mut rows = Vec::new();
    for post in &posts {
        for relief in reliefs(&stands_at(plan, post)) {
            let duty = relief.of.duty;
            let cell = |key, words: String| STOOD.cell(key, Text::plain(words, duty.span));
            let cells = vec![
                cell("post", post.name.to_string()),
                cell("when", local_words_alone(clock, relief.of.period)),
                cell("who", stood_by(duty, view)),
                cell("relief", relieved_at(&relief, post, view)),
            ];
            rows.push(Row { label: String::new(), record: Some(subject(*post)), span: duty.span, cells });
        }
    }
    let blocks = vec![STOOD.of(rows, "No duty there on this copy.")];
    Some(Section { key: "people", title: at("On duty", place), blocks })
}
