//! What several rules ask of an amateur signal.

use super::Facts;
use super::signals::Reported;
use crate::ground::{At, Day, Frequency, Id, Power, Stretch, Tolerance};
use crate::plan::{Channel, Gateway, Member, Plan, Repeater, Route, Service, Side, Signal};
use crate::reckon::{
    Eligibility, Heard, OnChannel, Spot, Term, Unreckoned, Verdict, heard, occupied_by, spot, spots, tolerance_on,
    widened,
};
use crate::tables::{Modes, Profile};

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
    /// Its radio service.
    service: Service,
    /// Whether it is a repeater, which the law keeps out of more.
    pub is_repeater: bool,
    /// Where its frequency was decided, when that is another record.
    pub decided_by: Option<At<Frequency>>,
    /// The most it sends with, where the plan says so.
    pub power: Option<At<Power>>,
    /// How far it may be off.
    pub tolerance: Tolerance,
    /// Where it may stand.
    stands: Stands<'a>,
}

/// Where a sender may stand.
enum Stands<'a> {
    /// At a place, where the plan says which.
    At(Option<&'a Id>),
    /// Wherever people use this channel.
    WithUsersOf(&'a Channel),
    /// Wherever people use a channel through this repeater.
    WithUsersThrough(&'a Repeater),
    /// Where this gateway stands, and wherever people use a channel through it.
    AtWithUsersOf(&'a Gateway),
}

/// Every amateur transmitter of the plan once: stations on channels, repeater outputs, gateways.
pub(super) fn senders<'a>(facts: Facts<'a>) -> Vec<Sender<'a>> {
    let mut all = every_sender(facts.plan);
    all.retain(|sender| sender.service == Service::Amateur);
    all
}

/// Every transmitter of the plan once, of any service.
///
/// A channel through a repeater sends on the repeater's input; the fault lies in the repeater, so it is named once there.
pub(super) fn every_sender(plan: &Plan) -> Vec<Sender<'_>> {
    let mut all = Vec::new();
    for channel in plan.channels.iter() {
        let is_own = !matches!(channel.route, Route::Repeater(_) | Route::Gateway(_));
        if let (true, Some(frequency)) = (is_own, channel.send) {
            all.push(of_channel(plan, channel, frequency));
        }
    }
    for repeater in plan.repeaters.iter() {
        all.push(of_repeater(plan, repeater, "output"));
        all.push(of_repeater(plan, repeater, "input"));
    }
    all.extend(plan.gateways.iter().map(|gateway| of_gateway(plan, gateway)));
    all
}

fn of_channel<'a>(plan: &'a Plan, channel: &'a Channel, frequency: At<Frequency>) -> Sender<'a> {
    Sender {
        frequency,
        signal: &channel.signal,
        side: channel.side(),
        subject: crate::plan::subject(channel),
        words: format!("channel {}", channel.name.value),
        service: channel.service.value,
        is_repeater: false,
        decided_by: None,
        power: channel.power,
        tolerance: tolerance_on(plan, channel),
        stands: Stands::WithUsersOf(channel),
    }
}

/// The output is sent by the repeater, where it stands; the input by the people around it, with radios of their own.
fn of_repeater<'a>(plan: &'a Plan, repeater: &'a Repeater, which: &str) -> Sender<'a> {
    let is_shifted = which == "input";
    let (power, tolerance, stands) = if is_shifted {
        let channels = || through(plan, repeater);
        let power = channels().filter_map(|channel| channel.power).max_by_key(|power| power.value);
        let tolerance = channels().map(|channel| tolerance_on(plan, channel)).max().unwrap_or_default();
        (power, tolerance, Stands::WithUsersThrough(repeater))
    } else {
        let tolerance = repeater.tolerance.map(|tolerance| tolerance.value).unwrap_or_default();
        (repeater.power, tolerance, Stands::At(repeater.place.as_ref().map(|place| &*place.value)))
    };
    Sender {
        frequency: if is_shifted { *repeater.input } else { repeater.output },
        signal: &repeater.signal,
        side: None,
        subject: crate::plan::subject(repeater),
        words: format!("the {which} of repeater {}", repeater.name.value),
        service: repeater.service.value,
        is_repeater: true,
        decided_by: is_shifted.then_some(repeater.output),
        power,
        tolerance,
        stands,
    }
}

/// People send there as well, with radios of their own.
fn of_gateway<'a>(plan: &'a Plan, gateway: &'a Gateway) -> Sender<'a> {
    let theirs = into(plan, gateway).map(|channel| tolerance_on(plan, channel)).max();
    let own = gateway.tolerance.map(|tolerance| tolerance.value);
    Sender {
        frequency: gateway.frequency,
        signal: &gateway.signal,
        side: None,
        subject: crate::plan::subject(gateway),
        words: format!("gateway {}", gateway.name.value),
        service: gateway.service.value,
        is_repeater: false,
        decided_by: None,
        power: gateway.power,
        tolerance: own.max(theirs).unwrap_or_default(),
        stands: Stands::AtWithUsersOf(gateway),
    }
}

/// The channels through a repeater.
fn through<'a>(plan: &'a Plan, repeater: &'a Repeater) -> impl Iterator<Item = &'a Channel> {
    let is_through =
        move |channel: &&Channel| matches!(&channel.route, Route::Repeater(id) if id.value == repeater.id.value);
    plan.channels.iter().filter(is_through)
}

/// The channels through a gateway.
fn into<'a>(plan: &'a Plan, gateway: &'a Gateway) -> impl Iterator<Item = &'a Channel> {
    let is_into =
        move |channel: &&Channel| matches!(&channel.route, Route::Gateway(id) if id.value == gateway.id.value);
    plan.channels.iter().filter(is_into)
}

impl<'a> Sender<'a> {
    /// Where a repeater is heard, and where its input counts; everywhere for all others.
    pub fn heard(&self, plan: &'a Plan) -> Heard<'a> {
        let repeater = plan.repeaters.named(&self.subject.id).filter(|_| self.is_repeater)?;
        heard(plan, repeater)
    }

    /// Every spot where it may stand.
    pub fn spots(&self, plan: &'a Plan) -> Vec<Spot<'a>> {
        match self.stands {
            Stands::At(place) => vec![spot(plan, place)],
            Stands::WithUsersOf(channel) => spots(plan, channel),
            Stands::WithUsersThrough(repeater) => {
                through(plan, repeater).flat_map(|channel| spots(plan, channel)).collect()
            }
            Stands::AtWithUsersOf(gateway) => {
                let own = spot(plan, gateway.place.as_ref().map(|place| &*place.value));
                let users = into(plan, gateway).flat_map(|channel| spots(plan, channel));
                std::iter::once(own).chain(users).collect()
            }
        }
    }
}

impl Sender<'_> {
    /// What it occupies as the law counts it.
    pub fn occupies(&self, facts: Facts<'_>) -> Result<Stretch, Reported> {
        facts.occupied_by(self.frequency.value, self.signal, self.side)
    }

    /// The same, with its tolerance on both sides.
    pub fn reaches(&self, facts: Facts<'_>) -> Result<Stretch, Reported> {
        facts.reached_by(self)
    }

    /// What it reaches, before anybody has looked whether that can be reckoned.
    pub fn reckoned(&self, profile: &Profile, modes: &Modes) -> Result<Stretch, Unreckoned> {
        widened(&occupied_by(profile, modes, self.frequency.value, self.signal, self.side)?, self.tolerance)
    }

    /// What to add to a message about an edge: the tolerance, where there is one.
    pub fn with_tolerance(&self) -> String {
        if self.tolerance.is_none() { String::new() } else { format!(" with {} of tolerance", self.tolerance) }
    }
}

/// A channel with who may send there, asked once for all members. An amateur licence that has ended is a finding of its own;
/// authority in another service is asked for the first day of the edition.
pub(super) fn on_channel<'a>(facts: Facts<'a>, channel: &'a Channel) -> OnChannel<'a> {
    let Facts { tables, profile, plan, .. } = facts;
    let is_amateur = channel.service.value == Service::Amateur;
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value).filter(|_| !is_amateur);
    Eligibility { tables, profile, plan, day }.on(channel)
}

/// Whether the law lets a member send; none when the class is unknown, which is a finding of its own.
pub(super) fn may_member_send(facts: Facts<'_>, here: &OnChannel<'_>, member: &Member) -> Option<bool> {
    allowed(facts, member, &here.verdict(member))
}

/// The same on a day of duty. An amateur licence that has ended when the edition begins is a finding of its own.
pub(super) fn may_send_on(facts: Facts<'_>, here: &OnChannel<'_>, (member, day): (&Member, Day)) -> Option<bool> {
    let start = facts.plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let is_reported = start.is_some_and(|start| Term::of_member(member).has_ended(start));
    let day = Some(day).filter(|_| !is_reported || here.channel().service.value != Service::Amateur);
    allowed(facts, member, &here.verdict_on(member, day))
}

fn allowed(facts: Facts<'_>, member: &Member, verdict: &Verdict) -> Option<bool> {
    match verdict {
        Verdict::Sends | Verdict::NoRadio => Some(true),
        Verdict::NoLicence
            if member.class.as_ref().is_some_and(|class| facts.profile.class(class.as_str()).is_none()) =>
        {
            None
        }
        _ => Some(false),
    }
}

/// Whether a channel sends inside a band: one that leaves it is open to nobody, and has its own finding. So has one of which
/// nothing can be reckoned.
pub(super) fn is_in_band(facts: Facts<'_>, channel: &Channel) -> bool {
    let Some(send) = channel.send else { return false };
    let Ok(occupied) = facts.occupied_by(send.value, &channel.signal, channel.side()) else { return false };
    // What tolerance alone carries out of all radio lies beyond every band.
    let Ok(reaches) = widened(&occupied, tolerance_on(facts.plan, channel)) else { return false };
    facts.profile.band_of(&reaches).is_some()
}
