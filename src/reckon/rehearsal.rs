//! A failure rehearsal: something is taken away, and everybody follows only what the own card says.
//!
//! From a net's primary channel one moves on when it is dead: to the channel that its row names as `next`, else to the net's
//! next channel in its order. One stays where the channel lives and the own radio hears it.

use super::{Eligibility, Verdict, can_hear};
use crate::ground::{Id, Subject};
use crate::plan::{Channel, Duty, Member, Net, Plan, Post, Route, subject};
use std::collections::{BTreeMap, BTreeSet};

/// Something that is taken away, with the channels that are dead without it.
#[derive(Clone, Debug)]
pub struct Loss {
    /// In words: `repeater Cold Ridge`, `all mains`, `the internet`.
    pub words: String,
    /// The record, where it is one.
    pub subject: Option<Subject>,
    /// Channels' ids.
    pub dead: BTreeSet<Id>,
}

/// Where a net is after a loss.
#[derive(Clone)]
pub struct Met<'a> {
    /// Where most of its people are; none where nobody finds a channel that lives.
    pub on: Option<&'a Channel>,
    /// Who sends there.
    pub present: Vec<&'a Member>,
    /// Who hears it but may not send, or cannot.
    pub listening: Vec<&'a Member>,
    /// Who is elsewhere or nowhere.
    pub apart: Vec<(&'a Member, Apart)>,
}

/// Where somebody is who is not with the net.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Apart {
    /// On another channel that lives.
    On(String),
    /// At the end of what the card says; the last channel tried.
    Nowhere(String),
    /// Sent to a channel that no own radio hears.
    Deaf(String),
}

impl Apart {
    /// In words after a name: `is on TAC 1`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::On(channel) => format!("is on {channel}"),
            Self::Nowhere(channel) => format!("finds nothing after {channel}"),
            Self::Deaf(channel) => format!("has no radio for {channel}"),
        }
    }
}

/// Every single thing that can be lost: each repeater, each gateway, each place where several stand, all that has no hours of
/// its own without mains, and the internet. Only losses that leave some channel dead.
#[must_use]
pub fn losses(plan: &Plan) -> Vec<Loss> {
    let mut losses = Vec::new();
    for repeater in plan.repeaters.iter() {
        losses.push(loss(plan, format!("repeater {}", repeater.name.value), Some(subject(repeater)), |elements| {
            elements.contains(&element("repeater", &repeater.id.value))
        }));
    }
    for gateway in plan.gateways.iter() {
        losses.push(loss(plan, format!("gateway {}", gateway.name.value), Some(subject(gateway)), |elements| {
            elements.contains(&element("gateway", &gateway.id.value))
        }));
    }
    for place in plan.places.iter() {
        losses.push(loss(plan, format!("all at {}", place.tactical.value), Some(subject(place)), |elements| {
            elements.contains(&element("place", &place.id.value))
        }));
    }
    losses.push(loss(plan, MAINS.to_owned(), None, |elements| elements.contains(MAINS)));
    losses.push(loss(plan, INTERNET.to_owned(), None, |elements| elements.contains(INTERNET)));
    // What stands alone at its place is lost with the place and by itself: once is enough.
    let mut seen = BTreeSet::new();
    losses.retain(|loss| !loss.dead.is_empty() && seen.insert(loss.dead.clone()));
    losses
}

const MAINS: &str = "mains power, where no hours without it are written";
const INTERNET: &str = "the internet";

fn element(kind: &str, id: &Id) -> String {
    format!("{kind}/{id}")
}

fn loss(plan: &Plan, words: String, subject: Option<Subject>, hits: impl Fn(&BTreeSet<String>) -> bool) -> Loss {
    let dead = plan.channels.iter().filter(|channel| hits(&rests_on(plan, channel)));
    Loss { words, subject, dead: dead.map(|channel| channel.id.value.clone()).collect() }
}

/// What a channel rests on, beside the stations themselves: `repeater/cold-ridge`, `place/cold-ridge-site`, mains, the internet.
#[must_use]
pub fn rests_on(plan: &Plan, channel: &Channel) -> BTreeSet<String> {
    let mut elements = BTreeSet::new();
    let mut add = |kind: &str, id: &Id, place: Option<&Id>, has_hours: bool| {
        elements.insert(element(kind, id));
        elements.extend(place.map(|place| element("place", place)));
        if !has_hours {
            elements.insert(MAINS.to_owned());
        }
    };
    match &channel.route {
        Route::Repeater(id) => {
            if let Some(repeater) = plan.repeaters.get(id) {
                let place = repeater.place.as_ref().map(|place| &place.value);
                add("repeater", id, place, repeater.backup_power.is_some());
            }
        }
        Route::Gateway(id) => {
            if let Some(gateway) = plan.gateways.get(id) {
                let place = gateway.place.as_ref().map(|place| &place.value);
                add("gateway", id, place, gateway.backup_power.is_some());
                if gateway.needs_internet.is_some_and(|needs| needs.value) {
                    elements.insert(INTERNET.to_owned());
                }
            }
        }
        Route::Simplex | Route::Dial(_) | Route::Split | Route::ListenOnly => {}
    }
    elements
}

/// An element as a sentence names it.
#[must_use]
pub fn element_words(plan: &Plan, element: &str) -> String {
    let named = |kind: &str, name: Option<String>| name.map(|name| format!("{kind} {name}"));
    let id = |text: &str| Id::parse(text).ok();
    let words = match element.split_once('/') {
        Some(("repeater", text)) => {
            named("repeater", id(text).and_then(|id| Some(plan.repeaters.get(&id)?.name.to_string())))
        }
        Some(("gateway", text)) => {
            named("gateway", id(text).and_then(|id| Some(plan.gateways.get(&id)?.name.to_string())))
        }
        Some(("place", text)) => {
            named("the place", id(text).and_then(|id| Some(plan.places.get(&id)?.tactical.to_string())))
        }
        _ => None,
    };
    words.unwrap_or_else(|| element.to_owned())
}

/// The members who work a net: those with a duty at a post of the net or at its control post. None where no duty is
/// written for it, or a duty's member or post was refused, so that nothing can be said.
#[must_use]
pub fn crew<'a>(plan: &'a Plan, net: &Net) -> Option<Vec<&'a Member>> {
    let works = |duty: &&Duty| {
        let is_control = net.control.as_ref().is_some_and(|control| control.value == duty.post.value);
        let post = plan.posts.get(&duty.post);
        is_control || post.is_some_and(|post| post.nets.iter().any(|id| id.value == net.id.value))
    };
    let duties: Vec<&Duty> = plan.duties.iter().filter(works).collect();
    if duties.is_empty() || !plan.posts.is_whole() {
        return None;
    }
    let mut members = Vec::new();
    for duty in duties {
        members.push(plan.members.get(&duty.member)?);
    }
    members.sort_by(|a, b| a.id.value.cmp(&b.id.value));
    members.dedup_by(|a, b| a.id.value == b.id.value);
    Some(members)
}

/// Lets the people of a net follow their cards after a loss. None where the net's primary channel lives, or the plan does not
/// say who works it.
#[must_use]
pub fn rehearse<'a>(rests_on: Eligibility<'a>, net: &'a Net, loss: &Loss) -> Option<Met<'a>> {
    let plan = rests_on.plan;
    let primary = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel))?;
    let crew = crew(plan, net).filter(|_| loss.dead.contains(&primary.id.value))?;
    let legs: Vec<&Channel> = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel)).collect();
    let walks: Vec<(&Member, Walk<'a>)> =
        crew.into_iter().map(|member| (member, walk(plan, (primary, &legs), Some(member), &loss.dead))).collect();
    let mut crowds: BTreeMap<&Id, usize> = BTreeMap::new();
    for (_, walk) in &walks {
        if let Walk::Ends(channel) = walk {
            *crowds.entry(&channel.id.value).or_default() += 1;
        }
    }
    // The largest crowd; of two alike the one whose channel has the later id, so that every run says the same.
    let on = crowds.iter().max_by_key(|(_, count)| **count).and_then(|(id, _)| plan.channels.get(id));
    let mut met = Met { on, present: Vec::new(), listening: Vec::new(), apart: Vec::new() };
    for (member, walk) in walks {
        match walk {
            Walk::Ends(channel) if on.is_some_and(|on| on.id.value == channel.id.value) => {
                match rests_on.on(channel).verdict(member) {
                    Verdict::Sends => met.present.push(member),
                    _ => met.listening.push(member),
                }
            }
            Walk::Ends(channel) => met.apart.push((member, Apart::On(channel.name.to_string()))),
            Walk::Lost(last) => met.apart.push((member, Apart::Nowhere(last.name.to_string()))),
            Walk::Deaf(channel) => met.apart.push((member, Apart::Deaf(channel.name.to_string()))),
        }
    }
    Some(met)
}

/// The channel on which a net is after a loss: where most of its people end or, where the plan does not say who works it,
/// where its cards lead. None where they lead nowhere.
#[must_use]
pub fn settles<'a>(rests_on: Eligibility<'a>, net: &'a Net, loss: &Loss) -> Option<&'a Channel> {
    if let Some(met) = rehearse(rests_on, net, loss) {
        return met.on;
    }
    let plan = rests_on.plan;
    let legs: Vec<&Channel> = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel)).collect();
    match walk(plan, (legs.first().copied()?, &legs), None, &loss.dead) {
        Walk::Ends(channel) => Some(channel),
        Walk::Lost(_) | Walk::Deaf(_) => None,
    }
}

/// How many posts work any of the nets.
#[must_use]
pub fn posts_of(plan: &Plan, nets: &[&Net]) -> usize {
    let works = |post: &&Post| post.nets.iter().any(|id| nets.iter().any(|net| net.id.value == id.value));
    plan.posts.iter().filter(works).count()
}

/// How somebody's search ends.
enum Walk<'a> {
    Ends(&'a Channel),
    Lost(&'a Channel),
    Deaf(&'a Channel),
}

fn walk<'a>(
    plan: &'a Plan,
    (primary, legs): (&'a Channel, &[&'a Channel]),
    member: Option<&Member>,
    dead: &BTreeSet<Id>,
) -> Walk<'a> {
    let mut here = primary;
    let mut tried: BTreeSet<&Id> = BTreeSet::new();
    loop {
        if member.is_some_and(|member| !hears(plan, member, here)) {
            return Walk::Deaf(here);
        }
        if !dead.contains(&here.id.value) {
            return Walk::Ends(here);
        }
        tried.insert(&here.id.value);
        let by_row = here.next.as_ref().and_then(|next| plan.channels.get(next));
        let after = legs.iter().position(|leg| leg.id.value == here.id.value).map(|at| at + 1);
        let by_net = after.and_then(|at| legs.get(at)).copied();
        match by_row.or(by_net).filter(|next| !tried.contains(&next.id.value)) {
            Some(next) => here = next,
            None => return Walk::Lost(here),
        }
    }
}

/// Whether an own radio hears a channel; who has none in the plan is not judged.
fn hears(plan: &Plan, member: &Member, channel: &Channel) -> bool {
    let mut radios = member.radios.iter().filter_map(|id| plan.radios.get(id)).peekable();
    radios.peek().is_none() || radios.any(|radio| can_hear(radio, channel))
}
