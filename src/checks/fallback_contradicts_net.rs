//! A channel's own `next` and the net's order send people the same way.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel's own `next` and the net's order send people the same way.
pub(super) const RULE: Rule = Rule::warning("fallback-contradicts-net", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a channel of a net whose row says `next` to one channel while the net's order goes on to another. The row counts, since it stands beside the frequency: a rehearsal follows it, and the net's panel says where it leads. The net's order counts where a row names no `next`.
Costs: half the stations follow the row of the card and half the net's panel, and they do not find each other.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
next = "tac-2"              # fallback-contradicts-net

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
simplex = "146.430 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"
alternate = "tac-1"
rejoin = "listen on CMD 1 for 5 minutes at each full hour"
```
Right: write the same channel in both places.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        for pair in net.legs.windows(2) {
            let [leg, after] = pair else { continue };
            let Some(channel) = facts.plan.channels.get(&leg.channel) else { continue };
            let Some(next) = channel.next.as_ref().filter(|next| next.value != after.channel.value) else { continue };
            // An id that nobody has, and a net that names one channel twice, are findings of their own.
            let (Some(by_row), Some(by_net)) = (facts.plan.channels.get(next), facts.plan.channels.get(&after.channel))
            else {
                continue;
            };
            if after.channel.value == leg.channel.value {
                continue;
            }
            let what = format!(
                "the row of {} goes on to {}, but {} goes on to {}",
                channel.name.value, by_row.name.value, net.name.value, by_net.name.value
            );
            found.push(
                Finding::new(&RULE, next.span, what)
                    .label("says the row")
                    .and(after.channel.span, format!("says the net, as its {}", after.name))
                    .help("write the same channel in both places, or leave `next` out")
                    .on(subject(channel))
                    .on(subject(net)),
            );
        }
    }
}
