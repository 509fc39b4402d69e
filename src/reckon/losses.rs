//! What can be lost, and what a channel rests on.

use super::SharedInputs;
use crate::ground::{Id, Subject};
use crate::plan::{Channel, Plan, Post, Ref, subject};
use std::collections::{BTreeMap, BTreeSet};

/// Something that is taken away, with the channels that are dead without it.
#[derive(Clone, Debug)]
pub struct Loss {
    /// In words: `repeater Cold Ridge`, `utility power`, `the internet`.
    pub words: String,
    /// The record, where it is one.
    pub subject: Option<Subject>,
    /// The place, where all at one is lost: who is posted there is lost with it.
    pub place: Option<Id>,
    /// Channels' ids.
    pub dead: BTreeSet<Id>,
    /// Networks that fall apart, by their ids; each repeater of one goes on by itself.
    pub parted: BTreeSet<Id>,
}

/// Every single thing that can be lost: each repeater, each gateway, each place where several stand or somebody has duty, all
/// that has no hours of its own without mains, and the internet. Only losses that leave some channel dead, part a network or take people.
#[must_use]
pub fn losses(plan: &Plan) -> Vec<Loss> {
    let inputs = SharedInputs::of(plan);
    let mut by_element: BTreeMap<String, BTreeSet<Id>> = BTreeMap::new();
    for channel in plan.channels.iter() {
        for element in rests_on(plan, channel, &inputs) {
            by_element.entry(element).or_default().insert(channel.id.value.clone());
        }
    }
    let dead = |element: &str| by_element.get(element).cloned().unwrap_or_default();
    let loss = |words: String, subject: Option<Subject>, element: &str| Loss {
        words,
        subject,
        place: None,
        dead: dead(element),
        parted: BTreeSet::new(),
    };
    let mut losses = Vec::new();
    for repeater in plan.repeaters.iter() {
        let words = format!("repeater {}", repeater.name.value);
        losses.push(loss(words, Some(subject(repeater)), &element("repeater", &repeater.id.value)));
    }
    for gateway in plan.gateways.iter() {
        let words = format!("gateway {}", gateway.name.value);
        losses.push(loss(words, Some(subject(gateway)), &element("gateway", &gateway.id.value)));
    }
    let shared: BTreeSet<&String> = by_element.keys().filter(|element| element.starts_with(INPUT)).collect();
    for input in shared {
        losses.push(loss(element_words(plan, input), None, input));
    }
    let manned = manned(plan);
    for place in plan.places.iter() {
        let words = format!("all at {}", place.tactical.value);
        let loss = loss(words, Some(subject(place)), &element("place", &place.id.value));
        losses.push(Loss { place: manned.contains(&place.id.value).then(|| place.id.value.clone()), ..loss });
    }
    losses.push(loss(MAINS.to_owned(), None, MAINS));
    let needy = plan.networks.iter().filter(|network| network.needs_internet.value);
    let parted = needy.map(|network| network.id.value.clone()).collect();
    losses.push(Loss { parted, ..loss(INTERNET.to_owned(), None, INTERNET) });
    // What stands alone at its place is lost with the place and by itself: once is enough, unless people are lost too.
    let mut seen = BTreeSet::new();
    losses.retain(|loss| {
        let takes = !loss.dead.is_empty() || !loss.parted.is_empty() || loss.place.is_some();
        takes && seen.insert((loss.dead.clone(), loss.parted.clone(), loss.place.clone()))
    });
    losses
}

/// The places where somebody has duty.
fn manned(plan: &Plan) -> BTreeSet<&Id> {
    let posts: BTreeSet<&Ref<Post>> = plan.duties.iter().map(|duty| &duty.post.value).collect();
    let places = posts.into_iter().filter_map(|post| plan.posts.get(post)?.place.as_ref());
    places.map(|place| &*place.value).collect()
}

const MAINS: &str = "utility power (no backup hours listed)";
const INTERNET: &str = "the internet";

fn element(kind: &str, id: &Id) -> String {
    format!("{kind}/{id}")
}

const INPUT: &str = "input/";

/// What a channel rests on, beside the stations themselves: `repeater/cold-ridge`, `place/cold-ridge-site`, an input that repeaters share, mains, the internet.
#[must_use]
pub fn rests_on(plan: &Plan, channel: &Channel, inputs: &SharedInputs<'_>) -> BTreeSet<String> {
    let mut elements = BTreeSet::new();
    let mut add = |kind: &str, id: &Id, place: Option<&Id>, has_hours: bool| {
        elements.insert(element(kind, id));
        elements.extend(place.map(|place| element("place", place)));
        if !has_hours {
            elements.insert(MAINS.to_owned());
        }
    };
    if let Some((id, repeater)) = channel.repeater().and_then(|id| Some((id, plan.repeaters.get(id)?))) {
        let place = repeater.place.as_ref().map(|place| &*place.value);
        add("repeater", id, place, repeater.backup_power.is_some());
        elements.extend(inputs.of_repeater(id).map(|first| element("input", first)));
    } else if let Some((id, gateway)) = channel.gateway().and_then(|id| Some((id, plan.gateways.get(id)?))) {
        let place = gateway.place.as_ref().map(|place| &*place.value);
        add("gateway", id, place, gateway.backup_power.is_some());
        if gateway.needs_internet.value {
            elements.insert(INTERNET.to_owned());
        }
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
            named("repeater", id(text).and_then(|id| Some(plan.repeaters.named(&id)?.name.to_string())))
        }
        Some(("gateway", text)) => {
            named("gateway", id(text).and_then(|id| Some(plan.gateways.named(&id)?.name.to_string())))
        }
        Some(("input", text)) => id(text)
            .and_then(|id| *plan.repeaters.named(&id)?.input)
            .map(|input| format!("input {}, blocked by one carrier", input.value)),
        Some(("place", text)) => {
            named("the place", id(text).and_then(|id| Some(plan.places.named(&id)?.tactical.to_string())))
        }
        _ => None,
    };
    words.unwrap_or_else(|| element.to_owned())
}
