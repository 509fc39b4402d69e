//! What several rules ask of an amateur signal.

use super::Facts;
use crate::ground::Day;
use crate::plan::{Channel, Member};
use crate::reckon::{OnChannel, Term, Transmission, Verdict, own_transmissions};

/// Every amateur transmission of the plan once, by the record that decides it.
pub(super) fn senders(facts: Facts<'_>) -> impl Iterator<Item = Transmission<'_>> {
    own_transmissions(facts.plan).filter(move |sender| sender.from.is_amateur() && !is_of_others(facts, sender))
}

/// Whether it is a repeater outside the amateur bands that the plan's people only listen to: another service's, as is a channel
/// there that is only listened to.
fn is_of_others(facts: Facts<'_>, sender: &Transmission<'_>) -> bool {
    let Some(repeater) = sender.from.repeater() else { return false };
    let is_within = facts.profile.bands.iter().any(|band| band.edges.has(repeater.output.value));
    let is_through = |channel: &&Channel| channel.repeater().is_some_and(|id| id.value == repeater.id.value);
    let mut through = facts.plan.channels.iter().filter(is_through).peekable();
    !is_within && through.peek().is_some() && through.all(|channel| channel.send.is_none())
}

/// A channel with who may send there, asked once for all members. An amateur licence that has ended is a finding of its own;
/// authority in another service is asked for the first day of the edition.
pub(super) fn on_channel<'a: 'c, 'c>(facts: Facts<'a>, channel: &'c Channel) -> OnChannel<'c> {
    let is_amateur = channel.service.is_amateur();
    let day = facts.plan.edition.as_ref().map(|edition| edition.valid_from.value).filter(|_| !is_amateur);
    facts.eligibility(day).on(channel)
}

/// Whether the law lets a member send; none when the class is unknown, which is a finding of its own.
pub(super) fn may_member_send(facts: Facts<'_>, here: &OnChannel<'_>, member: &Member) -> Option<bool> {
    allowed(facts, member, &here.verdict(member))
}

/// The same on a day of duty. An amateur licence that has ended when the edition begins is a finding of its own.
pub(super) fn may_send_on(facts: Facts<'_>, here: &OnChannel<'_>, (member, day): (&Member, Day)) -> Option<bool> {
    let start = facts.plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let is_reported = start.is_some_and(|start| Term::of_member(member).has_ended(start));
    let day = Some(day).filter(|_| !is_reported || !here.channel().service.is_amateur());
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
    let reaches = Transmission::on(facts.plan, channel).and_then(|sent| facts.reaches(&sent).ok());
    reaches.is_some_and(|reaches| facts.profile.band_of(&reaches).is_some())
}
