//! What sends and hears at a place at the same time: the channels worked there, what stands there, and what others have.

use super::coverage::Heard;
use super::intermod::{Hit, Hits, Keying, SiteSignal, harmonics, products};
use super::listeners::Listeners;
use super::site_end::{By, Keyed, SiteEnd};
use super::worked::Worked;
use super::{Transmission, Transmitter, Unreckoned};
use crate::ground::caps::SITE_SENDERS;
use crate::ground::{At, Frequency, Id, Width};
use crate::plan::{Channel, Control, Gateway, Link, Other, Place, Plan, Ref, Repeater};
use std::collections::{BTreeMap, BTreeSet};

/// A place with all that sends and hears there.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// Senders.
    pub senders: Vec<SiteEnd>,
    /// Receivers; those elsewhere that what stands here can reach come last.
    pub receivers: Vec<SiteEnd>,
    /// By channel, the groups in which it takes turns.
    turns: BTreeMap<Id, BTreeSet<usize>>,
    /// Radios so far that either send or hear.
    radios: usize,
    /// Whether products were reckoned for as much as is taken before it came to this place.
    pub(super) is_beyond: bool,
}

/// How wide a transmitter of others is taken to be.
const OTHERS: Width = Width::hertz(16_000);

/// What stands at a place.
#[derive(Default)]
pub(super) struct Here<'a> {
    pub links: Vec<&'a Link>,
    pub repeaters: Vec<&'a Repeater>,
    pub gateways: Vec<&'a Gateway>,
}

impl Here<'_> {
    /// How far it is heard from a place: as far as its farthest repeater; everywhere where that is not written of one, or where a
    /// gateway or a link stands, which write none.
    fn reach<'b>(&self, place: &'b Place) -> Heard<'b> {
        if !self.gateways.is_empty() || !self.links.is_empty() {
            return None;
        }
        let ranges = self.repeaters.iter().map(|repeater| repeater.range.map(|range| range.value));
        let ranges: Option<Vec<_>> = ranges.collect();
        Some((&place.position.as_ref()?.value, ranges?.into_iter().max()?))
    }
}

/// Who keys a gateway.
fn keyed(plan: &Plan, gateway: &Gateway) -> Keyed {
    let is_to_it = |channel: &&Channel| channel.gateway().is_some_and(|id| id.value == gateway.id.value);
    let channels = || plan.channels.iter().filter(is_to_it).map(|channel| channel.id.value.clone()).collect();
    match gateway.control.value {
        Control::Automatic => Keyed::Itself,
        Control::Attended => Keyed::Hand { channels: channels(), net: None, is_monitored: false },
    }
}

fn signals(ends: &[SiteEnd]) -> Vec<SiteSignal> {
    ends.iter().map(|end| end.signal).collect()
}

fn turns(place: &Place) -> BTreeMap<Id, BTreeSet<usize>> {
    let mut turns: BTreeMap<Id, BTreeSet<usize>> = BTreeMap::new();
    for (number, group) in place.turns.iter().enumerate() {
        for id in &group.value {
            turns.entry(Id::clone(id)).or_default().insert(number);
        }
    }
    turns
}

impl Site {
    /// What sends and hears at `place`: the channels that it monitors or that posts there work, the repeaters, gateways and links
    /// that stand there, and what others have; with the plan's receivers that what stands there can reach.
    pub(super) fn of(
        place: &Place,
        (worked, here, is_beyond): (&[Worked<'_>], &Here<'_>, bool),
        listeners: &Listeners<'_>,
        by: By<'_>,
    ) -> Result<Self, Unreckoned> {
        let plan = by.plan;
        let mut site = Self { turns: turns(place), ..Self::default() };
        for one in worked {
            site.add_worked(one, &here.links, by)?;
        }
        for link in &here.links {
            // A channel that is worked here besides is heard and sent on already.
            let more = link.joins.iter().filter(|id| worked.iter().all(|one| one.channel.id.value != id.value));
            for (id, channel) in more.filter_map(|id| Some((id, plan.channels.get(id)?))) {
                site.add_link(link, id, channel, by)?;
            }
        }
        for repeater in &here.repeaters {
            // It sends and hears at once: neither end makes the other silent.
            site.senders.push(SiteEnd::of(&Transmission::output_of(plan, repeater), Keyed::Itself, by)?);
            if let Some(input) = Transmission::input_of(plan, repeater) {
                site.receivers.push(SiteEnd::of(&input, Keyed::Itself, by)?);
            }
        }
        for gateway in &here.gateways {
            for sent in Transmission::of_gateway(plan, gateway) {
                let end = SiteEnd::of(&sent, keyed(plan, gateway), by)?;
                site.add_radio(Some(end.clone()), end);
            }
        }
        place.others.iter().for_each(|other| site.add_other(other));
        site.is_beyond = is_beyond;
        site.add_distant((here, place), listeners)?;
        Ok(site)
    }

    /// A radio that either sends or hears.
    fn add_radio(&mut self, sends: Option<SiteEnd>, hears: SiteEnd) {
        let owner = Some(self.radios);
        self.radios += 1;
        let owned = |end: SiteEnd| SiteEnd { signal: SiteSignal { owner, ..end.signal }, ..end };
        self.senders.extend(sends.map(owned));
        self.receivers.push(owned(hears));
    }

    fn add_worked(&mut self, worked: &Worked<'_>, links: &[&Link], by: By<'_>) -> Result<(), Unreckoned> {
        let channel = worked.channel;
        let id = &channel.id.value;
        let link = links.iter().find(|link| link.joins.iter().any(|joined| joined.value == *id));
        let (channels, net) = (vec![id.clone()], worked.net.cloned());
        let hand = Keyed::Hand { channels, net, is_monitored: worked.post.is_none() };
        let keyed = link.map_or(hand, |_| Keyed::Itself);
        let power = [channel.power, link.and_then(|link| link.power)].into_iter().flatten().map(|at| at.value).max();
        let end = |sent| Ok(SiteEnd { span: worked.span, power, ..SiteEnd::of(&sent, keyed.clone(), by)? });
        let sends = Transmission::on(by.plan, channel).map(end).transpose()?;
        self.add_radio(sends, end(Transmission::heard_on(by.plan, channel))?);
        Ok(())
    }

    /// One of a link's two radios.
    fn add_link(
        &mut self,
        link: &Link,
        id: &At<Ref<Channel>>,
        channel: &Channel,
        by: By<'_>,
    ) -> Result<(), Unreckoned> {
        let from = Transmitter::Link(link, id, channel);
        let power = link.power.or(channel.power).map(|power| power.value);
        let end = |sent: Transmission<'_>| {
            Ok(SiteEnd { span: id.span, power, ..SiteEnd::of(&sent.sent_by(from), Keyed::Itself, by)? })
        };
        let sends = Transmission::on(by.plan, channel).map(end).transpose()?;
        self.add_radio(sends, end(Transmission::heard_on(by.plan, channel))?);
        Ok(())
    }

    fn add_other(&mut self, other: &Other) {
        let width = other.width.map_or(OTHERS, |width| width.value);
        let end = |frequency: At<Frequency>| SiteEnd {
            name: other.name.to_string(),
            signal: SiteSignal { at: frequency.value, width, owner: None },
            subject: None,
            span: frequency.span,
            channel: None,
            power: None,
            keyed: Keyed::Others,
            is_distant: false,
        };
        self.senders.extend(other.sends.map(end));
        self.receivers.extend(other.hears.map(end));
    }

    /// Receivers of the plan elsewhere, where two or more that stand here make products by themselves that may fall there. Nothing
    /// is asked of a frequency that is heard here anyway, or that a repeater here covers with its own signal.
    fn add_distant(&mut self, (here, place): (&Here<'_>, &Place), listeners: &Listeners<'_>) -> Result<(), Unreckoned> {
        let own = self.senders.iter().filter(|end| end.keyed == Keyed::Itself);
        let own: Vec<SiteSignal> = own.map(|end| end.signal).collect();
        if own.len() < 2 || self.is_crowded() {
            return Ok(());
        }
        let mut heard: BTreeSet<Frequency> = self.receivers.iter().map(|end| end.signal.at).collect();
        for ends in listeners.near(&own, (here.reach(place), &place.id.value)) {
            self.receivers.extend(ends?.into_iter().filter(|end| heard.insert(end.signal.at)));
        }
        Ok(())
    }

    /// Whether two ends never work at once: the plan says that their channels take turns, or one net brings both.
    #[must_use]
    pub fn take_turns(&self, one: &SiteEnd, other: &SiteEnd) -> bool {
        let (
            Keyed::Hand { channels, net, is_monitored },
            Keyed::Hand { channels: others, net: other_net, is_monitored: is_other_monitored },
        ) = (&one.keyed, &other.keyed)
        else {
            return false;
        };
        let share = |one: &Id, other: &Id| {
            let groups = self.turns.get(one).zip(self.turns.get(other));
            groups.is_some_and(|(one, other)| !one.is_disjoint(other))
        };
        (net.is_some() && net == other_net && !(*is_monitored && *is_other_monitored))
            || channels.iter().any(|one| others.iter().any(|other| share(one, other)))
    }

    /// Whether two transmitters here can be keyed together.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        let rest = |at: usize| self.senders.iter().skip(at + 1);
        self.senders.iter().enumerate().any(|(at, one)| rest(at).any(|other| !self.take_turns(one, other)))
    }

    /// Every product that may fall on a receiver here, and those of what keys by itself that may fall on one elsewhere. Signals
    /// on one frequency make none that is not on it already.
    #[must_use]
    pub fn products(&self) -> Hits {
        if self.is_crowded() {
            return Hits::default();
        }
        let apart = |a: usize, b: usize| {
            let (Some(one), Some(other)) = (self.senders.get(a), self.senders.get(b)) else { return true };
            one.signal.at == other.signal.at || self.take_turns(one, other)
        };
        let keying = Keying { apart: &apart, deaf: &|receiver, sender| self.is_deaf(receiver, sender) };
        products(&signals(&self.senders), &signals(&self.receivers), &keying)
    }

    /// The harmonics that may fall on a receiver here.
    #[must_use]
    pub fn harmonics(&self) -> Hits {
        let is_elsewhere = |receiver: usize| self.receivers.get(receiver).is_none_or(|end| end.is_distant);
        let deaf = |receiver, sender| is_elsewhere(receiver) || self.is_deaf(receiver, sender);
        let keying = Keying { apart: &|_, _| true, deaf: &deaf };
        harmonics(&signals(&self.senders), &signals(&self.receivers), &keying)
    }

    /// A product with the names of its senders: `2 x CMD 1 - MED 1`.
    #[must_use]
    pub fn formula(&self, hit: &Hit) -> String {
        let name = |at: usize| self.senders.get(at).map_or("", |end| end.name.as_str());
        let [a, b, c] = hit.senders;
        hit.shape.formula([name(a), name(b), name(c)])
    }

    /// Whether what a sender takes part in harms a receiver not: it takes turns with it, so that it does not listen then; or it is
    /// elsewhere, and a hand keys the sender.
    fn is_deaf(&self, receiver: usize, sender: usize) -> bool {
        let Some((sender, receiver)) = self.senders.get(sender).zip(self.receivers.get(receiver)) else { return true };
        if receiver.is_distant { sender.keyed != Keyed::Itself } else { self.take_turns(sender, receiver) }
    }

    /// Whether more sends here, or at the places before it in the plan, than products are reckoned for.
    #[must_use]
    pub fn is_crowded(&self) -> bool {
        self.is_beyond || !u64::try_from(self.senders.len()).is_ok_and(|count| SITE_SENDERS.takes(count))
    }
}
