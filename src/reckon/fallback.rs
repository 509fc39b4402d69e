//! Where people go when nobody answers.
//!
//! Two texts may say it, and one of them counts: the channel's row where it names a `next`, since that is what stands beside the
//! frequency in everybody's hand; the net's order where the row names none. The same holds for when: the row's `after`, else the
//! net's `trigger`.

use crate::ground::{Id, Span};
use crate::plan::{Channel, Leg, Net, Plan};
use std::collections::BTreeSet;

/// A channel to which a net's people may come.
pub struct Reached<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// `alternate channel`, `next channel after CMD 1`.
    pub what: String,
    /// Where the plan says so.
    pub at: Span,
}

/// Where a net's people go from a channel: to its row's next, else to the net's following channel. Nobody goes to one that is not on
/// the air, but to where that one leads.
#[must_use]
pub fn onward<'a>(plan: &'a Plan, net: &Net, from: &Channel) -> Option<&'a Channel> {
    let led = |from: &Channel| {
        let by_row = from.next.as_ref().and_then(|next| plan.channels.get(next));
        by_row.or_else(|| following(net, from).and_then(|leg| plan.channels.get(&leg.channel)))
    };
    let mut passed: BTreeSet<&Id> = BTreeSet::new();
    let mut next = led(from)?;
    while !next.is_on_air() {
        if !passed.insert(&next.id.value) {
            return None;
        }
        next = led(next)?;
    }
    Some(next)
}

/// The channel that comes after one in the order of a net.
#[must_use]
pub fn following<'a>(net: &'a Net, from: &Channel) -> Option<&'a Leg> {
    let at = net.legs.iter().position(|leg| leg.channel.value == from.id.value)?;
    net.legs.get(at.checked_add(1)?)
}

/// Where a net's people come from its primary channel on when nobody ever answers, each channel once; and whether the last leads
/// back to one of them.
#[must_use]
pub fn way<'a>(plan: &'a Plan, net: &Net) -> (Vec<&'a Channel>, bool) {
    let mut way: Vec<&Channel> = Vec::new();
    let mut seen: BTreeSet<&Id> = BTreeSet::new();
    let mut here = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel));
    while let Some(channel) = here {
        if !seen.insert(&channel.id.value) {
            return (way, true);
        }
        way.push(channel);
        here = onward(plan, net, channel);
    }
    (way, false)
}

/// A net's channels, and where their rows lead further.
#[must_use]
pub fn reached<'a>(plan: &'a Plan, net: &Net) -> Vec<Reached<'a>> {
    let mut reached: Vec<Reached<'a>> = Vec::new();
    let mut seen: BTreeSet<&Id> = BTreeSet::new();
    for leg in &net.legs {
        let Some(channel) = plan.channels.get(&leg.channel) else { continue };
        if seen.insert(&channel.id.value) {
            reached.push(Reached { channel, what: format!("{} channel", leg.name), at: leg.channel.span });
        }
    }
    let mut index = 0;
    while let Some(from) = reached.get(index).map(|reached| reached.channel) {
        index = index.saturating_add(1);
        let Some(next) = &from.next else { continue };
        let Some(channel) = plan.channels.get(next).filter(|channel| seen.insert(&channel.id.value)) else { continue };
        reached.push(Reached { channel, what: format!("next channel after {}", from.name.value), at: next.span });
    }
    reached
}
