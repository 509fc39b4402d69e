//! Every name that is said on the air.

use crate::ground::{At, Subject, Words};
use crate::plan::{Plan, subject};

/// Spoken names of channels and nets, and tactical calls, with whose they are, in the plan's order.
pub(super) fn names(plan: &Plan) -> Vec<(&At<Words>, Subject)> {
    let channels = plan.channels.iter().map(|channel| (&channel.spoken, subject(channel)));
    let nets = plan.nets.iter().map(|net| (&net.spoken, subject(net)));
    let places = plan.places.iter().map(|place| (&place.tactical, subject(place)));
    channels.chain(nets).chain(places).collect()
}
