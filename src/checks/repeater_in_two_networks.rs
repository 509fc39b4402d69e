//! A repeater in two networks makes one of them.

use super::Facts;
use crate::ground::{At, Finding, Findings, Id, Rule};
use crate::plan::{Network, Ref, Repeater, subject};
use std::collections::BTreeMap;

/// A repeater in two networks makes one of them.
pub(super) const RULE: Rule = Rule::warning("repeater-in-two-networks", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a repeater that two networks name.
Costs: while both are linked there, every word of the one is sent in the other; and no card can say who hears whom.

Wrong:
```toml
[[repeater]]
id = "mill-hill"
call = "WZ7QUM"
output = "146.760 MHz"
input = "-600 kHz"
tone-in = "88.5 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }

[[repeater]]
id = "fern"
call = "WZ7QUX"
output = "444.500 MHz"
input = "+5 MHz"
tone-in = "103.5 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }

[[network]]
id = "north"
members = ["cold-ridge", "mill-hill"]
linked = "radio"

[[network]]
id = "south"
members = [
    "fern",
    "cold-ridge",   # repeater-in-two-networks
]
linked = "radio"
```
Right: write one network of all, or accept it where the repeater is switched from the one to the other.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut first: BTreeMap<&Id, (&Network, &At<Ref<Repeater>>)> = BTreeMap::new();
    for network in facts.plan.networks.iter() {
        for member in &network.members.value {
            let Some((other, at)) = first.get(&*member.value).copied() else {
                first.insert(&member.value, (network, member));
                continue;
            };
            let Some(repeater) = facts.plan.repeaters.get(member) else { continue };
            if other.id.value == network.id.value {
                continue;
            }
            let names = [&other.name.value, &network.name.value];
            let what =
                format!("repeater {} is in {} and in {}, which it joins", repeater.name.value, names[0], names[1]);
            let finding = Finding::new(&RULE, member.span, what).label("in this one as well");
            let finding = finding.and(at.span, "in this one");
            let finding =
                finding.help("write one network of all, or accept it where it is switched from the one to the other");
            found.push(finding.on(subject(repeater)).on(subject(other)).on(subject(network)));
        }
    }
}
