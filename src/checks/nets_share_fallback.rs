//! Two nets should not fall back to one channel.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Leg, Net, subject};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Two nets should not fall back to one channel.
pub(super) const RULE: Rule = Rule {
    name: "nets-share-fallback",
    severity: Severity::Warning,
    waivable: true,
    source: "common practice, no source",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two nets that name the same channel behind their primary one.
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

fn check(facts: Facts<'_>, found: &mut Findings) {
    let nets: Vec<&Net> = facts.plan.nets.iter().collect();
    for (index, second) in nets.iter().enumerate() {
        for first in nets.iter().take(index) {
            let shared = fallbacks(second)
                .find_map(|leg| Some((leg, fallbacks(first).find(|other| other.channel.value == leg.channel.value)?)));
            let Some((leg, other)) = shared else { continue };
            let name = facts
                .plan
                .channels
                .get(&leg.channel.value)
                .map_or_else(|| leg.channel.value.to_string(), |channel| channel.name.value.to_string());
            let what = format!("{} and {} both fall back to channel {name}", second.name.value, first.name.value);
            found.push(
                Finding::new(&RULE, leg.channel.span, what)
                    .label(format!("{} of {}", leg.name, second.name.value))
                    .and(other.channel.span, format!("{} of {}", other.name, first.name.value))
                    .help("give one of the nets another channel")
                    .on(subject(*second))
                    .on(subject(*first)),
            );
        }
    }
}

/// Every leg but the primary.
fn fallbacks(net: &Net) -> impl Iterator<Item = &Leg> {
    net.legs.iter().filter(|leg| leg.name != "primary")
}
