//! What several rules ask of an amateur signal.

use super::Facts;
use crate::ground::{At, Frequency, Stretch};
use crate::plan::{Channel, Duty, Gateway, Member, Net, Repeater, Route, Service, Side, Signal};
use crate::reckon::{emission_of, lawful_stretch};

/// Something that transmits: a channel's radio, a repeater, a gateway.
pub(super) struct Sender<'a> {
    /// What it sends on.
    pub frequency: At<Frequency>,
    /// How.
    pub signal: &'a Signal,
    /// On which side of an HF dial.
    pub side: Option<Side>,
    /// As findings name it.
    pub subject: crate::ground::Subject,
    /// What it is in a sentence: `channel CMD 1`.
    pub words: String,
    /// Whether it is a repeater, which the law keeps out of more.
    pub is_repeater: bool,
    /// Where its frequency was decided, when that is another record.
    pub decided_by: Option<At<Frequency>>,
}

/// Every amateur transmitter of the plan once: stations on channels, repeater outputs, gateways.
///
/// A channel through a repeater sends on the repeater's input; the fault lies in the repeater, so it is named once there.
pub(super) fn senders<'a>(facts: Facts<'a>) -> Vec<Sender<'a>> {
    let mut all = Vec::new();
    for channel in facts.plan.channels.iter() {
        let is_own = !matches!(channel.route, Route::Repeater(_) | Route::Gateway(_));
        if let (true, Service::Amateur, Some(frequency)) = (is_own, channel.service.value, channel.send) {
            all.push(of_channel(channel, frequency));
        }
    }
    for repeater in facts.plan.repeaters.iter().filter(|repeater| repeater.service.value == Service::Amateur) {
        all.push(of_repeater(repeater, repeater.output, "output"));
        all.push(of_repeater(repeater, repeater.input, "input"));
    }
    for gateway in facts.plan.gateways.iter().filter(|gateway| gateway.service.value == Service::Amateur) {
        all.push(of_gateway(gateway));
    }
    all
}

fn of_channel(channel: &Channel, frequency: At<Frequency>) -> Sender<'_> {
    Sender {
        frequency,
        signal: &channel.signal,
        side: channel.side(),
        subject: crate::plan::subject(channel),
        words: format!("channel {}", channel.name.value),
        is_repeater: false,
        decided_by: None,
    }
}

fn of_repeater<'a>(repeater: &'a Repeater, frequency: At<Frequency>, which: &str) -> Sender<'a> {
    let is_shifted = which == "input";
    Sender {
        frequency,
        signal: &repeater.signal,
        side: None,
        subject: crate::plan::subject(repeater),
        words: format!("the {which} of repeater {}", repeater.name.value),
        is_repeater: true,
        decided_by: is_shifted.then_some(repeater.output),
    }
}

fn of_gateway(gateway: &Gateway) -> Sender<'_> {
    Sender {
        frequency: gateway.frequency,
        signal: &gateway.signal,
        side: None,
        subject: crate::plan::subject(gateway),
        words: format!("gateway {}", gateway.name.value),
        is_repeater: false,
        decided_by: None,
    }
}

impl Sender<'_> {
    /// What it occupies as the law counts it; none when its designator cannot be read, which is a finding of its own.
    pub fn occupies(&self, facts: Facts<'_>) -> Option<Stretch> {
        let emission = emission_of(self.signal, &facts.tables.modes).ok()?;
        let side = self.side.filter(|_| !emission.symbols().starts_with("A1"));
        lawful_stretch(facts.profile, self.frequency.value, &emission, side, self.signal.audio.map(|audio| audio.value))
    }
}

/// The members who work a net: those with a duty at a post of the net or at its control post. None where no duty is
/// written for it, or a duty's member or post was refused, so that nothing can be said.
pub(super) fn members_of<'a>(facts: Facts<'a>, net: &Net) -> Option<Vec<&'a Member>> {
    let plan = facts.plan;
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

/// Whether a member's class may send on a channel; none when the class is unknown, which is a finding of its own.
pub(super) fn may_member_send(facts: Facts<'_>, member: &Member, channel: &Channel) -> Option<bool> {
    let Some(send) = channel.send else { return Some(false) };
    let Some(class) = &member.class else { return Some(false) };
    let class = facts.profile.class(class.as_str())?;
    let sent = crate::reckon::Sent { dial: send.value, signal: &channel.signal, side: channel.side() };
    Some(crate::reckon::may_send(facts.tables, facts.profile, class, &sent).is_ok())
}

/// Whether a channel sends inside a band: one that leaves it is open to nobody, and has its own finding.
pub(super) fn is_in_band(facts: Facts<'_>, channel: &Channel) -> bool {
    let sent = channel
        .send
        .and_then(|send| crate::reckon::occupied_by(send.value, &channel.signal, channel.side(), &facts.tables.modes));
    sent.is_some_and(|occupied| facts.profile.band_of(&occupied).is_some())
}
