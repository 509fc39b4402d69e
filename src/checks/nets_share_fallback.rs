//! Two nets should not fall back to one channel.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, listed};
use crate::plan::{Leg, Net, subject};
use std::collections::{BTreeMap, BTreeSet};

/// Two nets should not fall back to one channel.
pub(super) const RULE: Rule = Rule::warning("nets-share-fallback", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: two nets that name the same channel behind their primary one; where more than eight do, one finding tells of them all.
Costs: what takes both nets down at once sends both to one channel, where neither can work.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-3"
row = 4
name = "TAC 3"
spoken = "Tactical Three"
simplex = "147.420 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "tac-1"
alternate = "tac-3"
rejoin = "listen on the first channel at each full hour"

[[net]]
id = "medical"
name = "Medical net"
spoken = "Medical Net"
primary = "tac-2"
alternate = "tac-3"         # nets-share-fallback
rejoin = "listen on the first channel at each full hour"
```
Right: give each net its own alternate channel.
"#;

/// Most nets on one channel of which each two have a finding of their own: more are one finding, or a large plan would have
/// millions.
const MOST_EACH: usize = 8;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut on_channel: BTreeMap<&Id, BTreeMap<&Id, (&Net, &Leg)>> = BTreeMap::new();
    for net in facts.plan.nets.iter() {
        for leg in fallbacks(net) {
            on_channel.entry(&leg.channel.value).or_default().entry(&net.id.value).or_insert((net, leg));
        }
    }
    for (id, nets) in on_channel.iter().filter(|(_, nets)| nets.len() > MOST_EACH) {
        crowd(facts, id, &nets.values().copied().collect::<Vec<_>>())
            .into_iter()
            .for_each(|finding| found.push(finding));
    }
    on_channel.retain(|_, nets| nets.len() <= MOST_EACH);
    for second in facts.plan.nets.iter() {
        let mut said: BTreeSet<&Id> = BTreeSet::new();
        for leg in fallbacks(second) {
            let nets = on_channel.get(&*leg.channel.value).into_iter();
            let before = nets.flat_map(|nets| nets.range::<&Id, _>(..&second.id.value));
            for (first, (net, other)) in before {
                if said.insert(*first) {
                    found.push(pair(facts, (second, leg), (net, other)));
                }
            }
        }
    }
}

/// The channel as people call it.
fn name(facts: Facts<'_>, channel: &Id) -> String {
    facts.plan.channels.named(channel).map_or_else(|| channel.to_string(), |channel| channel.name.value.to_string())
}

fn pair(facts: Facts<'_>, (second, leg): (&Net, &Leg), (first, other): (&Net, &Leg)) -> Finding {
    let name = name(facts, &leg.channel.value);
    let what = format!("{} and {} both fall back to channel {name}", second.name.value, first.name.value);
    Finding::new(&RULE, leg.channel.span, what)
        .label(format!("{} of {}", leg.name, second.name.value))
        .and(other.channel.span, format!("{} of {}", other.name, first.name.value))
        .help("give one of the nets another channel")
        .on(subject(second))
        .on(subject(first))
}

/// One finding for many nets on one channel, at the second of them. A waiver of it names them all, so that one more is found again.
fn crowd(facts: Facts<'_>, channel: &Id, nets: &[(&Net, &Leg)]) -> Option<Finding> {
    let [(first, other), (second, leg), ..] = nets else { return None };
    let names: Vec<&str> = nets.iter().map(|(net, _)| net.name.as_str()).collect();
    let what = format!("{} nets fall back to channel {}: {}", nets.len(), name(facts, channel), listed(&names));
    let mut finding = Finding::new(&RULE, leg.channel.span, what)
        .label(format!("{} of {}", leg.name, second.name.value))
        .and(other.channel.span, format!("{} of {}", other.name, first.name.value))
        .help("give some of the nets another channel");
    // No net stands twice among them.
    finding.on = nets.iter().map(|(net, _)| subject(*net)).collect();
    Some(finding)
}

/// Every leg but the primary.
fn fallbacks(net: &Net) -> impl Iterator<Item = &Leg> {
    net.legs.iter().filter(|leg| leg.name != "primary")
}
