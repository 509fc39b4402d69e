//! No two channels have one row number.

use super::{Check, Facts};
use crate::ground::At;
use crate::ground::{Finding, Findings, OWN_FORMAT, Rule, Severity};
use crate::plan::subject;
use std::collections::BTreeMap;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// No two channels have one row number.
pub(super) const RULE: Rule = Rule {
    name: "slot-duplicate",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two channels with the same `slot`.
Costs: "go to channel two" sends people to two channels.

Wrong:
```toml
[[channel]]
id = "tac-1"
slot = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
slot = 2                    # slot-duplicate
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: give each its own number.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut seen: BTreeMap<u16, (&At<u16>, String)> = BTreeMap::new();
    for channel in facts.plan.channels.iter() {
        let Some(slot) = &channel.slot else { continue };
        let Some((first, name)) = seen.get(&slot.value) else {
            seen.insert(slot.value, (slot, channel.name.value.to_string()));
            continue;
        };
        let what = format!("channel {} has slot {}, which is channel {name}'s", channel.name.value, slot.value);
        found.push(
            Finding::new(&RULE, slot.span, what)
                .label("the same number again")
                .and(first.span, "first here")
                .help("give one of them another number")
                .on(subject(channel)),
        );
    }
}
