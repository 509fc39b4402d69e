//! Authority to transmit in another service than amateur: a licence of that service, or an agreement with who holds one.

use super::Term;
use crate::ground::Day;
use crate::plan::{Agreement, Channel, Member, Plan};
use crate::tables::Authority;

/// Why somebody has no authority on a channel of another service.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Barred {
    /// The profile says nothing of the service, and no agreement covers the channel.
    NoRules,
    /// It takes a licence of that service, or an agreement.
    NoLicence,
    /// The licence of that service has ended.
    LicenceEnded,
    /// It takes an agreement, and none in force covers the channel for this member.
    NoAgreement,
    /// A service that one only listens to.
    Nobody,
}

/// Whether `member` may transmit on a channel of another service on `day`; with none, ends of licences are not asked.
///
/// # Errors
/// Why not.
pub fn authority(plan: &Plan, channel: &Channel, member: &Member, day: Option<Day>) -> Result<(), Barred> {
    let service = &channel.service.value;
    let needed = service.authority;
    match needed {
        Some(Authority::Anybody) => return Ok(()),
        Some(Authority::Nobody) => return Err(Barred::Nobody),
        _ => {}
    }
    if agreements(plan, channel, day).any(|agreement| is_for(agreement, member)) {
        return Ok(());
    }
    let licence = member.licences.iter().find(|licence| licence.service.value == *service);
    match (needed, licence) {
        (Some(Authority::Licence), Some(licence)) if !day.is_some_and(|day| Term::of(licence).has_ended(day)) => Ok(()),
        (Some(Authority::Licence), Some(_)) => Err(Barred::LicenceEnded),
        (Some(Authority::Licence), None) => Err(Barred::NoLicence),
        (Some(_), _) => Err(Barred::NoAgreement),
        (None, _) => Err(Barred::NoRules),
    }
}

/// The last day of the authority that `member` has on `day`; none where nothing ends it, or there is none to end. One agreement
/// may go on where another ends.
#[must_use]
pub fn authority_until(plan: &Plan, channel: &Channel, member: &Member, day: Day) -> Option<Day> {
    let service = &channel.service.value;
    let needed = service.authority;
    if matches!(needed, Some(Authority::Anybody | Authority::Nobody)) {
        return None;
    }
    let licence = member.licences.iter().find(|licence| licence.service.value == *service).map(Term::of);
    let licence = licence.filter(|term| needed == Some(Authority::Licence) && !term.has_ended(day));
    if licence.is_some_and(|term| term.last_day().is_none()) {
        return None;
    }
    let mut spans: Vec<(Day, Day)> = agreements(plan, channel, None)
        .filter(|agreement| is_for(agreement, member))
        .map(|agreement| (agreement.signed.value, agreement.expires.value))
        .chain(licence.and_then(Term::last_day).map(|last| (day, last)))
        .collect();
    spans.sort_unstable();
    spans.into_iter().fold(None, |until: Option<Day>, (from, to)| {
        let goes_on = until.map_or(from <= day, |until| from.days_since(until) <= 1);
        if goes_on && to >= day { until.max(Some(to)) } else { until }
    })
}

fn is_for(agreement: &Agreement, member: &Member) -> bool {
    let members = &agreement.members;
    members.is_empty() || members.iter().any(|id| id.value == member.id.value)
}

/// The agreements that cover a channel and are in force on `day`.
pub fn agreements<'a>(
    plan: &'a Plan,
    channel: &'a Channel,
    day: Option<Day>,
) -> impl Iterator<Item = &'a Agreement> + 'a {
    plan.agreements.iter().filter(move |agreement| {
        let covers = agreement.channels.is_empty() || agreement.channels.iter().any(|id| id.value == channel.id.value);
        agreement.service.value == channel.service.value && covers && is_in_force(agreement, day)
    })
}

/// Whether an agreement is signed and has not ended on `day`.
#[must_use]
pub fn is_in_force(agreement: &Agreement, day: Option<Day>) -> bool {
    day.is_none_or(|day| agreement.signed.value <= day && agreement.expires.value >= day)
}
