//! What sends and hears at a place at the same time.

use super::intermod::{Hit, SiteSignal, harmonics, products};
use super::{Unreckoned, occupied_by};
use crate::ground::{At, Frequency, Id, Power, Span, Subject, Width};
use crate::plan::{Channel, Gateway, Place, Plan, Repeater, Side, Signal, subject};
use crate::tables::{Modes, Profile};

/// A sender or a receiver at a place.
#[derive(Clone, Debug)]
pub struct SiteEnd {
    /// As printed.
    pub name: String,
    /// The signal.
    pub signal: SiteSignal,
    /// What it is of, where it is a record.
    pub subject: Option<Subject>,
    /// Where the plan says that it is here.
    pub span: Span,
    /// The channel, where people work one.
    pub channel: Option<Id>,
    /// The most it sends with, where the plan says so.
    pub power: Option<Power>,
}

/// A place with all that sends and hears there.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// Senders.
    pub senders: Vec<SiteEnd>,
    /// Receivers.
    pub receivers: Vec<SiteEnd>,
    /// Groups of channels that take turns.
    turns: Vec<Vec<Id>>,
}

/// How wide a transmitter of others is taken to be.
const OTHERS: Width = Width::hertz(16_000);

/// By what a signal is reckoned.
#[derive(Clone, Copy)]
struct By<'a> {
    profile: &'a Profile,
    modes: &'a Modes,
}

/// What sends and hears at `place`: the channels worked there, the repeaters,
/// gateways and links that stand there, and what others have.
///
/// # Errors
/// When one of the signals cannot be reckoned: without it the site would look quieter than it is.
pub fn site(plan: &Plan, profile: &Profile, modes: &Modes, place: &Place) -> Result<Site, Unreckoned> {
    let by = By { profile, modes };
    let mut site = Site { turns: place.turns.iter().map(|group| ids(group)).collect(), ..Site::default() };
    for (owner, id) in place.monitors.iter().enumerate() {
        let Some(channel) = plan.channels.get(id) else { continue };
        site.add_channel(channel, owner, id.span, by)?;
    }
    let linked = plan.links.iter().filter(|link| link.place.as_ref().is_some_and(|of| of.value == place.id.value));
    let linked = linked.flat_map(|link| &link.joins);
    // A link's two radios are two more; a channel that is worked here besides is heard and sent on already.
    let more = linked.filter(|id| place.monitors.iter().all(|worked| worked.value != id.value));
    for (index, id) in more.enumerate() {
        let Some(channel) = plan.channels.get(id) else { continue };
        site.add_channel(channel, place.monitors.len() + plan.gateways.len() + index, id.span, by)?;
    }
    let stands = |place_of: &Option<At<Id>>| place_of.as_ref().is_some_and(|of| of.value == place.id.value);
    for repeater in plan.repeaters.iter().filter(|repeater| stands(&repeater.place)) {
        site.add_repeater(repeater, by)?;
    }
    for (index, gateway) in plan.gateways.iter().enumerate().filter(|(_, gateway)| stands(&gateway.place)) {
        site.add_gateway(gateway, place.monitors.len() + index, by)?;
    }
    for other in &place.others {
        let end = |frequency: At<Frequency>| SiteEnd {
            name: other.name.to_string(),
            signal: SiteSignal {
                at: frequency.value,
                width: other.width.map_or(OTHERS, |width| width.value),
                owner: None,
            },
            subject: None,
            span: frequency.span,
            channel: None,
            power: None,
        };
        site.senders.extend(other.sends.map(end));
        site.receivers.extend(other.hears.map(end));
    }
    Ok(site)
}

fn signals(ends: &[SiteEnd]) -> Vec<SiteSignal> {
    ends.iter().map(|end| end.signal).collect()
}

fn ids(group: &[At<Id>]) -> Vec<Id> {
    group.iter().map(|id| id.value.clone()).collect()
}

/// The middle and the width of what is occupied.
fn middle(at: Frequency, signal: &Signal, side: Option<Side>, by: By<'_>) -> Result<(Frequency, Width), Unreckoned> {
    let stretch = occupied_by(by.profile, by.modes, at, signal, side)?;
    let width = (stretch.high() - stretch.low()).size();
    let middle = Frequency::hertz(stretch.low().as_hertz() + width / 2).unwrap_or(stretch.low());
    Ok((middle, Width::hertz(width)))
}

impl Site {
    fn add_channel(&mut self, channel: &Channel, owner: usize, span: Span, by: By<'_>) -> Result<(), Unreckoned> {
        let end = |at: At<Frequency>| {
            let (at, width) = middle(at.value, &channel.signal, channel.side(), by)?;
            Ok(SiteEnd {
                name: channel.name.to_string(),
                signal: SiteSignal { at, width, owner: Some(owner) },
                subject: Some(subject(channel)),
                span,
                channel: Some(channel.id.value.clone()),
                power: channel.power.map(|power| power.value),
            })
        };
        self.senders.extend(channel.send.map(end).transpose()?);
        self.receivers.push(end(channel.hear)?);
        Ok(())
    }

    fn add_repeater(&mut self, repeater: &Repeater, by: By<'_>) -> Result<(), Unreckoned> {
        let end = |at: At<Frequency>, which: &str| {
            let (middle, width) = middle(at.value, &repeater.signal, None, by)?;
            Ok(SiteEnd {
                name: format!("{} {which}", repeater.name.value),
                signal: SiteSignal { at: middle, width, owner: None },
                subject: Some(subject(repeater)),
                span: at.span,
                channel: None,
                power: repeater.power.map(|power| power.value),
            })
        };
        self.senders.push(end(repeater.output, "output")?);
        self.receivers.push(end(repeater.input, "input")?);
        Ok(())
    }

    fn add_gateway(&mut self, gateway: &Gateway, owner: usize, by: By<'_>) -> Result<(), Unreckoned> {
        let (at, width) = middle(gateway.frequency.value, &gateway.signal, None, by)?;
        let end = SiteEnd {
            name: gateway.name.to_string(),
            signal: SiteSignal { at, width, owner: Some(owner) },
            subject: Some(subject(gateway)),
            span: gateway.frequency.span,
            channel: None,
            power: None,
        };
        self.senders.push(end.clone());
        self.receivers.push(end);
        Ok(())
    }

    /// Whether two ends never work at once: the plan says that their channels take turns.
    #[must_use]
    pub fn take_turns(&self, one: &SiteEnd, other: &SiteEnd) -> bool {
        let (Some(one), Some(other)) = (&one.channel, &other.channel) else { return false };
        self.turns.iter().any(|group| group.contains(one) && group.contains(other))
    }

    /// Every product that may fall on a receiver here. Signals on one frequency make none that is not on it already.
    #[must_use]
    pub fn products(&self) -> Vec<Hit> {
        let (senders, receivers) = (signals(&self.senders), signals(&self.receivers));
        let apart = |a: usize, b: usize| {
            let (Some(one), Some(other)) = (self.senders.get(a), self.senders.get(b)) else { return true };
            one.signal.at == other.signal.at || self.take_turns(one, other)
        };
        let mut hits = products(&senders, &receivers, &apart);
        hits.retain(|hit| !self.is_silent(hit));
        hits
    }

    /// The harmonics that may fall on a receiver here.
    #[must_use]
    pub fn harmonics(&self) -> Vec<Hit> {
        let mut hits = harmonics(&signals(&self.senders), &signals(&self.receivers));
        hits.retain(|hit| !self.is_silent(hit));
        hits
    }

    /// A product with the names of its senders: `2 x CMD 1 - MED 1`.
    #[must_use]
    pub fn formula(&self, hit: &Hit) -> String {
        let name = |at: usize| self.senders.get(at).map_or("", |end| end.name.as_str());
        let [a, b, c] = hit.senders;
        hit.shape.formula([name(a), name(b), name(c)])
    }

    /// Whether the receiver takes turns with one of the senders, so that it does not listen then.
    fn is_silent(&self, hit: &Hit) -> bool {
        let Some(receiver) = self.receivers.get(hit.receiver) else { return true };
        hit.senders.iter().any(|sender| self.senders.get(*sender).is_some_and(|end| self.take_turns(end, receiver)))
    }
}
