//! A net's channels do not all rest on one thing.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, Subject, listed};
use crate::plan::{Channel, Leg, Net, Repeater, subject};
use crate::reckon::{SharedInputs, element_words, rests_on};
use std::collections::{BTreeMap, BTreeSet};

/// A net's channels do not all rest on one thing.
pub(super) const RULE: Rule = Rule::warning(
    "net-shares-element",
    "common practice, no source: primary, alternate, contingency, emergency are to fail one by one",
    DOC,
);

const DOC: &str = r#"
Finds: a net whose channels all rest on one repeater, gateway, place, on utility power without stated hours, or on the internet; and one of whose channels two or more go through repeaters that hear on one frequency within each other's `range`.
Costs: one fault takes the net and all its fallbacks.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "cmd-b"
row = 2
name = "CMD 2"
spoken = "Command Two"
repeater = "cold-ridge"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"             # net-shares-element
alternate = "cmd-b"
rejoin = "listen on CMD 1 for 5 minutes at each full hour"
```
Right: make one of them a simplex channel, or one through another repeater with its `backup-power`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let inputs = SharedInputs::of(facts.plan);
    for net in facts.plan.nets.iter() {
        let legs: Option<Vec<&Channel>> = net.legs.iter().map(|leg| facts.plan.channels.get(&leg.channel)).collect();
        let Some([first, others @ ..]) = legs.as_deref() else { continue };
        // A net that names one channel twice has a finding of its own.
        if others.is_empty() || others.iter().any(|other| other.id.value == first.id.value) {
            continue;
        }
        let mut shared: BTreeSet<String> = rests_on(facts.plan, first, &inputs);
        for other in others {
            let theirs = rests_on(facts.plan, other, &inputs);
            shared.retain(|element| theirs.contains(element));
        }
        // What stands nearest to the channel says most: a shared repeater shares its place and its mains as well.
        let nearest = ["repeater/", "gateway/", "input/", "place/", ""]
            .iter()
            .find_map(|kind| shared.iter().find(|e| e.starts_with(kind)));
        let (Some(element), Some(leg)) = (nearest, net.legs.first()) else {
            share_input(facts, net, &inputs, found);
            continue;
        };
        let what = format!(
            "all {} channels of {} rest on {}",
            net.legs.len(),
            net.name.value,
            element_words(facts.plan, element)
        );
        let finding = Finding::new(&RULE, leg.channel.span, what).label("rests on it, and so do the others");
        let finding = net.legs.iter().skip(1).fold(finding, |finding, leg| finding.and(leg.channel.span, leg.name));
        let finding = finding
            .help("make one of them a simplex channel, or write `backup-power` where there is some")
            .on(subject(net));
        found.push(match record(element) {
            Some(on) => finding.on(on),
            None => finding,
        });
    }
}

/// Reports channels of a net that go through different repeaters and all the same stop with one carrier.
fn share_input(facts: Facts<'_>, net: &Net, inputs: &SharedInputs<'_>, found: &mut Findings) {
    let mut by_input: BTreeMap<&Id, Vec<(&Leg, &Channel, &Repeater)>> = BTreeMap::new();
    for leg in &net.legs {
        let Some(channel) = facts.plan.channels.get(&leg.channel) else { continue };
        let Some(id) = channel.repeater() else { continue };
        let (Some(repeater), Some(first)) = (facts.plan.repeaters.get(id), inputs.of_repeater(id)) else { continue };
        by_input.entry(first).or_default().push((leg, channel, repeater));
    }
    for legs in by_input.into_values() {
        let [(first, _, repeater), others @ ..] = legs.as_slice() else { continue };
        if others.iter().all(|(_, _, other)| other.id.value == repeater.id.value) {
            continue;
        }
        let Some(input) = *repeater.input else { continue };
        let names: Vec<&str> = legs.iter().map(|(_, channel, _)| channel.name.as_str()).collect();
        let what = format!(
            "{} of {} go through repeaters that all hear on {}: one carrier there stops them together, whatever the tones",
            listed(&names),
            net.name.value,
            input.value
        );
        let finding = Finding::new(&RULE, first.channel.span, what).label("stops with it, and so do the others");
        let finding = others.iter().fold(finding, |finding, (leg, _, _)| finding.and(leg.channel.span, leg.name));
        let finding = finding
            .help("take a simplex channel for one of them, or a repeater with an input of its own")
            .on(subject(net));
        found.push(legs.iter().fold(finding, |finding, (_, _, repeater)| finding.on(subject(*repeater))));
    }
}

/// An element as a record; none for mains and the internet.
fn record(element: &str) -> Option<Subject> {
    let (kind, id) = element.split_once('/')?;
    let kind = ["repeater", "gateway", "place"].into_iter().find(|known| *known == kind)?;
    Some(Subject::new(kind, &Id::parse(id).ok()?))
}
