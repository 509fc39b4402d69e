//! What radios hear and send.

use crate::ground::{Power, Tolerance};
use crate::plan::{Channel, Member, Plan, Radio};
use crate::tables::Service;

/// A member's radios that the plan knows.
pub(super) fn radios<'a>(plan: &'a Plan, member: &Member) -> Vec<&'a Radio> {
    member.radios.iter().filter_map(|id| plan.radios.get(&id.value)).collect()
}

/// Whether an own radio hears a channel. Who has none in the plan is not judged; nor is a channel of another service: many radios
/// hear far beyond where they send, and the plan does not say how far.
#[must_use]
pub fn hears(plan: &Plan, member: &Member, channel: &Channel) -> bool {
    let radios = radios(plan, member);
    let is_judged = channel.service.is_amateur() && !radios.is_empty();
    !is_judged || radios.iter().any(|radio| can_hear(radio, channel))
}

/// The most power that an own radio has on a channel; none where radios are not judged, or none sends there.
#[must_use]
pub fn own_power(plan: &Plan, member: &Member, channel: &Channel) -> Option<Power> {
    let radios = radios(plan, member).into_iter().filter(|radio| can_work(radio, channel));
    radios.map(|radio| radio.power.value).max()
}

/// Whether a radio both hears and sends on a channel.
#[must_use]
pub fn can_work(radio: &Radio, channel: &Channel) -> bool {
    can_send(radio, channel) && can_hear(radio, channel)
}

/// Whether a radio hears a channel: it covers the frequency and has the mode. Radios hear where they send, and often further,
/// which the plan does not say.
#[must_use]
pub fn can_hear(radio: &Radio, channel: &Channel) -> bool {
    let covers = radio.covers.iter().any(|stretch| stretch.value.has(channel.hear.value));
    covers && radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value)
}

/// The tolerance that a channel's signal is widened by: the largest of the radios that send there; 0 where the plan says nothing.
#[must_use]
pub fn tolerance_on(plan: &Plan, channel: &Channel) -> Tolerance {
    let radios = plan.radios.iter().filter(|radio| radio.tolerance.is_some() && can_send(radio, channel));
    radios.filter_map(|radio| radio.tolerance).map(|tolerance| tolerance.value).max().unwrap_or_default()
}

/// Whether a radio is made for a service. Other services take equipment that is certified for them (us: 47 CFR 95.361, 95.1761, from
/// memory), which an amateur radio is not, whatever it covers.
fn is_made_for(radio: &Radio, service: &Service) -> bool {
    let services = &radio.services;
    (services.is_empty() && service.is_amateur()) || services.iter().any(|known| *known.value == *service)
}

/// Whether a radio sends on a channel's frequency in its mode and service; a listening channel asks nothing of it.
#[must_use]
pub fn can_send(radio: &Radio, channel: &Channel) -> bool {
    let Some(send) = channel.send else { return true };
    if !is_made_for(radio, &channel.service) {
        return false;
    }
    let covers = radio.covers.iter().any(|stretch| stretch.value.has(send.value));
    covers && radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value)
}
