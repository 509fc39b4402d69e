//! A fact that people act on should say who looked and when.

use super::Facts;
use super::evidence::{Fact, facts as all_facts};
use crate::ground::{Finding, Findings, Rule};
use std::collections::BTreeMap;

/// A fact that people act on should say who looked and when.
pub(super) const RULE: Rule = Rule::warning("evidence-missing", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a repeater, gateway, simplex channel, place or phone number without a day on which somebody checked it; once for all of a kind in a file.
Costs: copied from a list that was copied from a list; nobody knows whether it ever worked.

Wrong:
```toml
[[repeater]]
id = "mill-hill"            # evidence-missing
call = "WZ7QUM"
output = "147.180 MHz"
input = "+600 kHz"
tone-in = "88.5 Hz"
tone-out = "off"
```
Right: look, then add `verified = { on = 2026-10-04, by = "qra" }`; for a place `visited-on`, for a phone `confirmed`.
"#;

/// Most further rows that are shown of a table.
const SHOWN: usize = 3;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut tables: BTreeMap<_, Vec<Fact>> = BTreeMap::new();
    for fact in all_facts(facts).into_iter().filter(|fact| fact.seen.is_none()) {
        tables.entry((fact.span.file, fact.on.kind, fact.key)).or_default().push(fact);
    }
    for ((_, kind, key), mut table) in tables {
        table.sort_by_key(|fact| fact.span.start);
        let [first, others @ ..] = &*table else { continue };
        let and_others = match others.len() {
            0 => String::new(),
            1 => format!(", nor one {kind} more in this file"),
            more => format!(", nor {more} {kind}s more in this file"),
        };
        let finding =
            Finding::new(&RULE, first.span, format!("nobody says when the {} was checked{and_others}", first.what))
                .label("without a day");
        let finding = others.iter().take(SHOWN).fold(finding, |finding, fact| finding.and(fact.span, "nor this"));
        let each = if others.is_empty() { "" } else { " to each" };
        found.push(
            finding.help(format!("look, then add `{key}`{each}")).on_all(table.iter().map(|fact| fact.on.clone())),
        );
    }
}
