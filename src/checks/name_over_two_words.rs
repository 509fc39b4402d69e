//! A name that is said on the air has two words at most.

use super::Facts;
use super::spoken::names;
use crate::ground::{Finding, Findings, Rule, plural};
use crate::plan::{Channel, subject};
use crate::tables::ServiceChannel;
use std::collections::BTreeSet;

/// A name that is said on the air has two words at most.
pub(super) const RULE: Rule =
    Rule::warning("name-over-two-words", "names on the air are short: common practice, no source", DOC);

const DOC: &str = r#"
Finds: a spoken channel or net name or a tactical call of more than two words. Names of channels that an agency sets are left out: those of another service that the profile lists, as marine and weather.
Costs: long names are cut short on the air, everybody's own way.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "North County Tactical One"   # name-over-two-words
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write two words, `spoken = "Tactical One"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let has = |channel: &Channel, row: &ServiceChannel| {
        row.frequency == channel.hear.value || row.input == Some(channel.hear.value)
    };
    let is_fixed = |channel: &&Channel| {
        let mut rows = facts.profile.channels_of(&channel.service);
        channel.service.has_standard_names || channel.has_published_name() || rows.any(|row| has(channel, row))
    };
    let fixed: BTreeSet<_> = facts.plan.channels.iter().filter(is_fixed).map(subject).collect();
    for (name, on) in names(facts.plan).into_iter().filter(|(_, on)| !fixed.contains(on)) {
        let count = name.as_str().split_whitespace().count();
        if count <= 2 {
            continue;
        }
        found.push(
            Finding::new(
                &RULE,
                name.span,
                format!("\"{}\" has {}; two are the most", name.value, plural(count, "word")),
            )
            .label("too long to be said alike by all")
            .help("write two words")
            .on(on),
        );
    }
}
