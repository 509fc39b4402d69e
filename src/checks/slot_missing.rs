//! Every channel has a numbered row.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, OWN_FORMAT, Rule, Severity};
use crate::plan::subject;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Every channel has a numbered row.
pub(super) const RULE: Rule = Rule {
    name: "slot-missing",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel without a `slot`.
Costs: "go to channel seven" means nothing where the rows have no numbers, and a radio set by the card has no place for it.

Wrong:
```toml
[[channel]]
id = "sim"                  # slot-missing
name = "SIM 1"
spoken = "Simplex One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: add `slot = 2`, a number that no other channel has.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let taken: Vec<u16> =
        facts.plan.channels.iter().filter_map(|channel| channel.slot.as_ref().map(|slot| slot.value)).collect();
    let mut free = (1..=u16::MAX).filter(|slot| !taken.contains(slot));
    for channel in facts.plan.channels.iter().filter(|channel| channel.slot.is_none()) {
        let what = format!("channel {} has no slot, the number of its row", channel.name.value);
        let finding = Finding::new(&RULE, channel.id.span, what).label("without a number").on(subject(channel));
        found.push(match free.next() {
            Some(slot) => finding.help(format!("add `slot = {slot}`, the next that is free")),
            None => finding,
        });
    }
}
