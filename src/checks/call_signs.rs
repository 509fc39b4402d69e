//! The amateur call signs of a plan.

use crate::ground::{At, CallSign, Subject};
use crate::plan::{Plan, subject};

/// Every amateur call sign with who or what bears it. Tactical calls are names of places and are not among them.
#[must_use]
pub fn calls(plan: &Plan) -> Vec<(At<CallSign>, Subject)> {
    let members = plan.members.iter().filter_map(|member| Some((member.call.clone()?, subject(member))));
    let repeaters = plan.repeaters.iter().filter(|repeater| repeater.service.is_amateur());
    let repeaters = repeaters.filter_map(|repeater| Some((repeater.call.clone()?, subject(repeater))));
    let gateways = plan.gateways.iter().filter(|gateway| gateway.service.is_amateur());
    let gateways = gateways.map(|gateway| (gateway.call.clone(), subject(gateway)));
    let links = plan.links.iter().map(|link| (link.call.clone(), subject(link)));
    let origins = plan.messages.iter().map(|message| (message.station_of_origin.clone(), subject(message)));
    // One of another service's shape is a finding of its own, and has no prefix and suffix to judge.
    members
        .chain(repeaters)
        .chain(gateways)
        .chain(links)
        .chain(origins)
        .filter(|(call, _)| call.value.is_amateur())
        .collect()
}
