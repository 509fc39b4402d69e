//! Every name that is said on the air, and what words it has.

use crate::ground::{At, Subject, Words};
use crate::plan::{Plan, subject};
use std::collections::BTreeSet;

/// Spoken names of channels and nets, and tactical calls, with whose they are, in the plan's order.
pub(super) fn names(plan: &Plan) -> Vec<(&At<Words>, Subject)> {
    let channels = plan.channels.iter().map(|channel| (&channel.spoken, subject(channel)));
    let nets = plan.nets.iter().map(|net| (&net.spoken, subject(net)));
    let places = plan.places.iter().map(|place| (&place.tactical, subject(place)));
    channels.chain(nets).chain(places).collect()
}

/// Printed names of channels and nets, with whose they are: what is read aloud from a sheet.
pub(super) fn printed(plan: &Plan) -> Vec<(&At<Words>, Subject)> {
    let channels = plan.channels.iter().map(|channel| (&channel.name, subject(channel)));
    channels.chain(plan.nets.iter().map(|net| (&net.name, subject(net)))).collect()
}

/// Spoken names, and printed ones of records whose spoken name `has` not what is looked for.
pub(super) fn said_or_read(plan: &Plan, has: impl Fn(&str) -> bool) -> Vec<(&At<Words>, Subject)> {
    let mut all: Vec<_> = names(plan).into_iter().filter(|(name, _)| has(name.as_str())).collect();
    let said: BTreeSet<Subject> = all.iter().map(|(_, on)| on.clone()).collect();
    all.extend(printed(plan).into_iter().filter(|(name, on)| has(name.as_str()) && !said.contains(on)));
    all
}

/// Whether `text` has the words of `wanted` one after the other, in large or small letters.
pub(super) fn has_words(text: &str, wanted: &str) -> bool {
    let (text, wanted) = (words(text), words(wanted));
    !wanted.is_empty() && text.windows(wanted.len().max(1)).any(|part| part == wanted)
}

/// Whether `text` has all words of `wanted`, in any order.
pub(super) fn has_all_words(text: &str, wanted: &str) -> bool {
    let (text, wanted) = (words(text), words(wanted));
    !wanted.is_empty() && wanted.iter().all(|word| text.contains(word))
}

/// The words of a text, in large letters.
pub(super) fn words(text: &str) -> Vec<String> {
    let parts = text.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty());
    parts.map(str::to_uppercase).collect()
}
