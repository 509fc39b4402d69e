//! Every name that is said on the air, and what words it has.

use crate::ground::{At, Subject, Words};
use crate::plan::{Plan, subject};

/// Spoken names of channels and nets, and tactical calls, with whose they are, in the plan's order.
pub(super) fn names(plan: &Plan) -> Vec<(&At<Words>, Subject)> {
    let channels = plan.channels.iter().map(|channel| (&channel.spoken, subject(channel)));
    let nets = plan.nets.iter().map(|net| (&net.spoken, subject(net)));
    let places = plan.places.iter().map(|place| (&place.tactical, subject(place)));
    channels.chain(nets).chain(places).collect()
}

/// Whether `text` has the words of `wanted` one after the other, in large or small letters.
pub(super) fn has_words(text: &str, wanted: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let parts = text.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty());
        parts.map(str::to_uppercase).collect()
    };
    let (text, wanted) = (words(text), words(wanted));
    !wanted.is_empty() && text.windows(wanted.len().max(1)).any(|part| part == wanted)
}
