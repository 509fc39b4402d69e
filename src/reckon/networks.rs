//! Channels that are worked as one, since what joins them sends each word on all of them.

use super::Loss;
use crate::ground::Id;
use crate::plan::{Channel, Link, Net, Network, Plan};
use std::collections::BTreeSet;

/// The networks that a channel's repeater is in.
pub fn networks_of<'a>(plan: &'a Plan, channel: &'a Channel) -> impl Iterator<Item = &'a Network> {
    let repeater = channel.repeater();
    plan.networks.iter().filter(move |network| repeater.is_some_and(|id| network.has(&id.value)))
}

/// The channels through the repeaters of a network.
pub fn channels_in<'a>(plan: &'a Plan, network: &'a Network) -> impl Iterator<Item = &'a Channel> {
    plan.channels.iter().filter(|channel| channel.repeater().is_some_and(|id| network.has(&id.value)))
}

/// Whether what is said on one channel is heard on another: through one repeater, a network that is not parted, or a link.
#[must_use]
pub fn are_together(plan: &Plan, one: &Channel, other: &Channel, parted: &BTreeSet<Id>) -> bool {
    let repeater = |channel: &Channel| channel.repeater().map(|id| (*id.value).clone());
    let is_one = one.id.value == other.id.value || repeater(one).is_some() && repeater(one) == repeater(other);
    let has = |network: &Network, channel: &Channel| channel.repeater().is_some_and(|id| network.has(&id.value));
    let whole = || plan.networks.iter().filter(|network| !parted.contains(&network.id.value));
    is_one
        || whole().any(|network| has(network, one) && has(network, other))
        || plan.links.iter().any(|link| joins(link, one) && joins(link, other))
}

fn joins(link: &Link, channel: &Channel) -> bool {
    link.joins.iter().any(|joined| *joined.value == channel.id.value)
}

/// A net's primary channel, and those that a loss takes from it: dead, or no longer joined with it. None where the loss takes none,
/// or the primary channel itself.
#[must_use]
pub fn taken_from<'a>(plan: &'a Plan, net: &Net, loss: &Loss) -> Option<(&'a Channel, Vec<&'a Channel>)> {
    let primary = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel))?;
    if loss.dead.contains(&primary.id.value) {
        return None;
    }
    let none = BTreeSet::new();
    let also = net.also.iter().filter_map(|id| plan.channels.get(id));
    let taken: Vec<&Channel> = also
        .filter(|channel| {
            let is_dead = loss.dead.contains(&channel.id.value);
            let was = are_together(plan, primary, channel, &none);
            is_dead || was && !are_together(plan, primary, channel, &loss.parted)
        })
        .collect();
    (!taken.is_empty()).then_some((primary, taken))
}
