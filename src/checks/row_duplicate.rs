//! No two channels have one row number.

use super::Facts;
use crate::ground::At;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use std::collections::BTreeMap;

/// No two channels have one row number.
pub(super) const RULE: Rule = Rule::of_format("row-duplicate", DOC);

const DOC: &str = r#"
Finds: two channels with the same `row`.
Costs: "go to channel two" sends people to two channels.

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
row = 2                    # row-duplicate
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: give each its own number.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut seen: BTreeMap<u16, (&At<_>, String)> = BTreeMap::new();
    for channel in facts.plan.channels.iter() {
        let Some(row) = &channel.row else { continue };
        let Some((first, name)) = seen.get(&row.value.get()) else {
            seen.insert(row.value.get(), (row, channel.name.value.to_string()));
            continue;
        };
        let what = format!("channel {} has row {}, which is channel {name}'s", channel.name.value, row.value);
        found.push(
            Finding::new(&RULE, row.span, what)
                .label("the same number again")
                .and(first.span, "first here")
                .help("give one of them another number")
                .on(subject(channel)),
        );
    }
}
