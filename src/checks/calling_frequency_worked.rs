//! A calling frequency is for calling, not for a net.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A calling frequency is for calling, not for a net.
pub(super) const RULE: Rule = Rule::warning("calling-frequency-worked", "the voluntary band plan in the profile", DOC);

const DOC: &str = r#"
Finds: a net that works, or falls back to, a calling frequency of the band plan.
Costs: whoever calls for help there finds it busy, and the net is disturbed by strangers.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.520 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "field"
name = "Field net"
spoken = "Field Net"
primary = "tac-1"           # calling-frequency-worked
```
Right: call there, then move: give the net its own simplex channel.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        for leg in &net.legs {
            let Some(channel) = facts.plan.channels.get(&leg.channel.value) else { continue };
            if !channel.service.is_amateur() {
                continue;
            }
            let Some(calling) = channel.send.and_then(|send| facts.profile.calling(send.value)) else { continue };
            let what = format!(
                "{} works channel {}, {}, the {} calling frequency",
                net.name.value, channel.name.value, calling.frequency, calling.mode
            );
            found.push(
                Finding::new(&RULE, leg.channel.span, what)
                    .label(format!("its {} channel", leg.name))
                    .and(channel.hear.span, "this frequency")
                    .note(calling.cite.source.clone())
                    .help("give the net a channel of its own, and call here alone")
                    .on(subject(net))
                    .on(subject(channel)),
            );
        }
    }
}
