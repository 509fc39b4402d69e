//! A net must not fall back to where it already is.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A net must not fall back to where it already is.
pub(super) const RULE: Rule = Rule::of_format("net-repeats-channel", DOC);

const DOC: &str = r#"
Finds: a net that names one channel twice.
Costs: when that channel fails, the plan sends the net to the same channel.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "tac-1"
alternate = "tac-1"         # net-repeats-channel
rejoin = "listen on the first channel at each full hour"
```
Right: name another channel, or none.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        for (index, leg) in net.legs.iter().enumerate() {
            let earlier = net.legs.iter().take(index).find(|earlier| earlier.channel.value == leg.channel.value);
            let Some(earlier) = earlier else { continue };
            let what = format!("the {} channel of {} is its {} channel too", leg.name, net.name.value, earlier.name);
            found.push(
                Finding::new(&RULE, leg.channel.span, what)
                    .label("the same channel")
                    .and(earlier.channel.span, "named here first")
                    .help("name another channel, or remove this key")
                    .on(subject(net)),
            );
        }
    }
}
