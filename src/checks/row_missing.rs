//! Every channel has a numbered row.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Every channel has a numbered row.
pub(super) const RULE: Rule = Rule::of_format("row-missing", DOC);

const DOC: &str = r#"
Finds: a channel without a `row` where others have one. Where none has, the rows are numbered in their order; so are those of a table without a column of rows.
Costs: "go to channel seven" means nothing where the rows have no numbers, and a radio set by the card has no place for it.

Wrong:
```toml
[[channel]]
id = "tac"
row = 7
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "sim"                  # row-missing
name = "SIM 1"
spoken = "Simplex One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: add `row = 2`, a number that no other channel has.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let taken: Vec<u16> =
        facts.plan.channels.iter().filter_map(|channel| channel.row.as_ref().map(|row| row.value.get())).collect();
    let mut free = (1..=u16::MAX).filter(|row| !taken.contains(row));
    for channel in facts.plan.channels.iter().filter(|channel| channel.row.is_none()) {
        let what = format!("channel {} has no row, the number of its row", channel.name.value);
        let finding = Finding::new(&RULE, channel.id.span, what).label("without a number").on(subject(channel));
        found.push(match free.next() {
            Some(row) => finding.help(format!("add `row = {row}`, the next that is free")),
            None => finding,
        });
    }
}
