//! A network does not make two nets into one.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, Net, Plan, Ref, Repeater, subject};
use crate::reckon::networks_of;

/// A network does not make two nets into one.
pub(super) const RULE: Rule = Rule::warning("network-joins-nets", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: two nets whose primary channels go through different repeaters of one network.
Costs: every word of the one is sent on the other: both stations that speak at once lose their traffic, and nobody knows why the channel is never free.

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

[[network]]
id = "ring"
members = ["cold-ridge", "mill-hill"]
linked = "radio"

[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "med"
row = 3
name = "MED 1"
spoken = "Medical One"
repeater = "mill-hill"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"
rejoin = "listen on CMD 1 at each full hour"

[[net]]
id = "medical"
name = "Medical net"
spoken = "Medical Net"
primary = "med"             # network-joins-nets
rejoin = "listen on MED 1 at each full hour"
```
Right: give one of the nets a channel outside of the network; one net on both repeaters says so with `also`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let nets: Vec<(&Net, &Channel)> = plan.nets.iter().filter_map(|net| Some((net, primary(plan, net)?))).collect();
    for network in plan.networks.iter() {
        let is_in =
            |(_, channel): &&(&Net, &Channel)| networks_of(plan, channel).any(|of| of.id.value == network.id.value);
        let mut there = nets.iter().filter(is_in);
        let Some((first, channel)) = there.next() else { continue };
        for (second, other) in there.filter(|(_, other)| repeater(other) != repeater(channel)) {
            let (Some(leg), Some(first_leg)) = (second.legs.first(), first.legs.first()) else { continue };
            let what = format!(
                "{} on {} and {} on {} are one: {} links their repeaters",
                first.name.value, channel.name.value, second.name.value, other.name.value, network.name.value
            );
            let finding = Finding::new(&RULE, leg.channel.span, what).label("is heard there too");
            let finding = finding.and(first_leg.channel.span, "and this here").and(network.span, "by this network");
            let finding = finding
                .help("give one of the nets a channel outside of the network, or make one net of both with `also`");
            found.push(finding.on(subject(*first)).on(subject(*second)).on(subject(network)));
        }
    }
}

fn primary<'a>(plan: &'a Plan, net: &Net) -> Option<&'a Channel> {
    plan.channels.get(&net.legs.first()?.channel)
}

fn repeater(channel: &Channel) -> Option<&Ref<Repeater>> {
    channel.repeater().map(|id| &id.value)
}
