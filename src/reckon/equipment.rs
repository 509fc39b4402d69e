//! What radios hear and send.

use crate::ground::{Power, Span, Tolerance};
use crate::plan::{Channel, Member, Plan, Radio};
use crate::tables::Service;

/// A member's radios that the plan knows.
pub(super) fn radios<'a>(plan: &'a Plan, member: &Member) -> Vec<&'a Radio> {
    member.radios.iter().filter_map(|id| plan.radios.get(&id.value)).collect()
}

/// Whether the plan lists a radio of a member that both hears and sends on a channel.
#[must_use]
pub fn lists_radio(plan: &Plan, member: &Member, channel: &Channel) -> bool {
    radios(plan, member).into_iter().any(|radio| can_work(radio, channel))
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

/// Whether a radio may be used in a service: one that takes approved equipment asks for that, whatever else it is made for.
fn is_made_for(radio: &Radio, service: &Service) -> bool {
    let services = &radio.services;
    let is_made =
        (services.is_empty() && service.is_amateur()) || services.iter().any(|known| *known.value == *service);
    radio.is_approved_for(service) || (is_made && !service.takes_approved)
}

/// Where the plan says that a radio could send on a channel, whatever its service asks; none where it does not.
#[must_use]
pub fn covering(radio: &Radio, channel: &Channel) -> Option<Span> {
    let send = channel.send?.value;
    let covering = radio.covers.iter().find(|stretch| stretch.value.has(send))?;
    radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value).then_some(covering.span)
}

/// Whether a radio sends on a channel's frequency in its mode and service; a listening channel asks nothing of it.
#[must_use]
pub fn can_send(radio: &Radio, channel: &Channel) -> bool {
    channel.send.is_none() || (is_made_for(radio, &channel.service) && covering(radio, channel).is_some())
}
