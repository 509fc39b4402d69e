//! What stands on the air and overlaps, and what of it is as it should be.

use super::Facts;
use super::adjacent_channel::{is_spaced, spacing};
use crate::ground::{Id, Stretch, Subject};
use crate::plan::{Channel, Gateway, Plan};
use crate::reckon::{Coverage, Fallbacks, Spots, Transmission, Transmitter, spots_can_meet};
use std::collections::BTreeSet;

/// What stands on the air: a channel, or a repeater or gateway that no channel goes through.
pub(super) struct Occupier<'a> {
    pub(super) of: Transmitter<'a>,
    /// The repeater or gateway: two rows of one are one station.
    through: Option<Subject>,
    /// The repeater whose direct fallback it is.
    stands_in_for: Option<Subject>,
    /// Whether the rules of another service give the channel to all of its users.
    is_fixed: bool,
    /// Whether a net works it.
    is_worked: bool,
    /// What it occupies to hear and to send; once where both are the same.
    pub(super) ends: Vec<Occupied<'a>>,
    pub(super) spots: Spots<'a>,
}

/// A stretch that a station occupies, and by what.
#[derive(Clone, Copy)]
pub(super) struct Occupied<'a> {
    pub(super) stretch: Stretch,
    pub(super) sent: Transmission<'a>,
}

/// Two stations that overlap: the later one, the earlier, and where each does.
pub(super) type Overlap<'b, 'a> = (&'b Occupier<'a>, &'b Occupier<'a>, [Occupied<'a>; 2]);

impl Occupier<'_> {
    /// What it occupies.
    pub(super) fn occupied(&self) -> Vec<Stretch> {
        self.ends.iter().map(|end| end.stretch).collect()
    }

    /// Whether meeting there is as it should be: two rows of one repeater, that and its direct fallback, or channels that a service's
    /// rules give to all of its users; but two nets of one plan should not meet there.
    fn shares_with(&self, other: &Self) -> bool {
        let is_fallback = |one: &Self, of: &Self| one.stands_in_for.is_some() && one.stands_in_for == of.through;
        let is_one = self.through.is_some() && self.through == other.through;
        let are_fixed = self.is_fixed && other.is_fixed && !(self.is_worked && other.is_worked);
        is_one || are_fixed || is_fallback(self, other) || is_fallback(other, self)
    }
}

/// Where two stations overlap that can meet and should not; `is_wanted` says which of their ends count.
pub(super) fn overlap<'b, 'a>(
    second: &'b Occupier<'a>,
    first: &'b Occupier<'a>,
    is_wanted: impl Fn(&Transmission<'a>, &Transmission<'a>) -> bool,
) -> Option<Overlap<'b, 'a>> {
    if first.shares_with(second) {
        return None;
    }
    let mut pairs = second.ends.iter().flat_map(|their| first.ends.iter().map(move |our| [*their, *our]));
    let pair = pairs.find(|[their, our]| their.stretch.overlaps(&our.stretch) && is_wanted(&their.sent, &our.sent))?;
    spots_can_meet(&first.spots, &second.spots).then_some((second, first, pair))
}

/// Whether two FM signals lie as far apart as the band plan wants, though they may overlap.
pub(super) fn keep_spacing(facts: Facts<'_>, one: &Transmission<'_>, other: &Transmission<'_>) -> bool {
    let (one_at, other_at) = (one.frequency.value, other.frequency.value);
    let lower = if one_at < other_at { one } else { other };
    let wanted = spacing(facts, lower).map(|(_, spacing)| spacing.as_hertz());
    [one, other].into_iter().all(is_spaced) && wanted.is_some_and(|wanted| (one_at - other_at).size() >= wanted)
}

/// All that stands on the air.
pub(super) fn stations(facts: Facts<'_>) -> Vec<Occupier<'_>> {
    let plan = facts.plan;
    let known = Known { facts, coverage: Coverage::of(plan), fallbacks: Fallbacks::of(plan), worked: worked(plan) };
    let sending = plan.channels.iter().filter(|channel| channel.send.is_some());
    let channels = sending.map(|channel| {
        let both = std::iter::once(Transmission::heard_on(plan, channel)).chain(Transmission::on(plan, channel));
        known.station(Transmitter::Channel(channel), both)
    });
    let mut all: Vec<Occupier<'_>> = channels.collect();
    // Listening channels through a repeater do not make it known: it sends all the same.
    let heard: BTreeSet<Subject> = all.iter().filter_map(|station| station.through.clone()).collect();
    let is_new = |station: &Occupier<'_>| station.through.as_ref().is_none_or(|on| !heard.contains(on));
    let of_repeater =
        |repeater| known.station(Transmitter::Repeater(repeater), Transmission::of_repeater(plan, repeater));
    let repeaters = plan.repeaters.iter().map(of_repeater);
    all.extend(repeaters.filter(is_new));
    all.extend(plan.gateways.iter().filter_map(|gateway| known.gateway(gateway)));
    all
}

/// The channels that nets work.
fn worked(plan: &Plan) -> BTreeSet<&Id> {
    let legs = plan.nets.iter().flat_map(|net| net.legs.iter().map(|leg| &leg.channel).chain(&net.also));
    legs.map(|channel| &*channel.value).collect()
}

/// What is asked once of the plan for all stations.
struct Known<'a> {
    facts: Facts<'a>,
    coverage: Coverage<'a>,
    fallbacks: Fallbacks<'a>,
    worked: BTreeSet<&'a Id>,
}

impl<'a> Known<'a> {
    /// A gateway on those of its frequencies that no channel uses.
    fn gateway(&self, gateway: &'a Gateway) -> Option<Occupier<'a>> {
        let plan = self.facts.plan;
        let is_used = |sent: &Transmission<'_>| {
            let is_to_it = |channel: &&Channel| channel.gateway().is_some_and(|id| *id.value == gateway.id.value);
            plan.channels.iter().filter(is_to_it).any(|channel| channel.hear.value == sent.frequency.value)
        };
        let unused: Vec<_> = Transmission::of_gateway(plan, gateway).filter(|sent| !is_used(sent)).collect();
        (!unused.is_empty()).then(|| self.station(Transmitter::Gateway(gateway), unused))
    }

    fn station(&self, of: Transmitter<'a>, ends: impl IntoIterator<Item = Transmission<'a>>) -> Occupier<'a> {
        let Facts { plan, .. } = self.facts;
        let occupied = |sent: Transmission<'a>| Some(Occupied { stretch: self.facts.occupies(&sent).ok()?, sent });
        let mut ends: Vec<_> = ends.into_iter().filter_map(occupied).collect();
        ends.dedup_by(|a, b| a.stretch == b.stretch);
        let channel = of.channel();
        let repeater = channel.and_then(|channel| self.fallbacks.stands_in_for(channel));
        Occupier {
            of,
            through: of.relay(plan).and_then(|relay| relay.subject()),
            stands_in_for: repeater.and_then(|repeater| Transmitter::Repeater(repeater).subject()),
            is_fixed: channel.is_some_and(|channel| is_fixed(self.facts, channel)),
            is_worked: channel.is_some_and(|channel| self.worked.contains(&channel.id.value)),
            ends,
            spots: of.heard(plan, &self.coverage),
        }
    }
}

/// Whether a channel is one that the rules of another service have in a table.
fn is_fixed(facts: Facts<'_>, channel: &Channel) -> bool {
    let (service, hear) = (&channel.service, channel.hear.value);
    let send = channel.send.map_or(hear, |send| send.value);
    !service.is_amateur() && facts.profile.channels_of(service).any(|row| row.is_used_by(hear, send))
}
