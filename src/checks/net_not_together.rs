//! A net on several channels at once needs something that joins them.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::are_together;
use std::collections::BTreeSet;

/// A net on several channels at once needs something that joins them.
pub(super) const RULE: Rule = Rule::warning("net-not-together", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net with a channel in `also` that nothing joins with its primary channel: neither one repeater, nor a `[[network]]`, nor a `[[link]]`.
Costs: those on the one do not hear those on the other, and believe that they were heard.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "tac"
row = 3
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"
also = ["tac"]              # net-not-together
rejoin = "listen on CMD 1 at each full hour"
```
Right: write the network or link that joins them; leave `also` out, where a channel is one to go to, and write it as `alternate`. Accept it where net control works both.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let (plan, none) = (facts.plan, BTreeSet::new());
    for net in plan.nets.iter() {
        let Some(leg) = net.legs.first() else { continue };
        let Some(primary) = plan.channels.get(&leg.channel) else { continue };
        for also in &net.also {
            let Some(channel) = plan.channels.get(also) else { continue };
            if are_together(plan, primary, channel, &none) {
                continue;
            }
            let what = format!(
                "{} is on {} and {} at once, and nothing joins the two",
                net.name.value, primary.name.value, channel.name.value
            );
            let finding = Finding::new(&RULE, also.span, what).label("is heard here alone");
            let finding = finding.and(leg.channel.span, "where it meets");
            let finding = finding.help(
                "write the `[[network]]` or `[[link]]` that joins them, or accept it where net control works both",
            );
            found.push(finding.on(subject(net)).on(subject(channel)));
        }
    }
}
