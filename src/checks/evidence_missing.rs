//! A fact that people act on should say who looked and when.

use super::Facts;
use super::evidence::facts as all_facts;
use crate::ground::{Finding, Findings, Rule};

/// A fact that people act on should say who looked and when.
pub(super) const RULE: Rule = Rule::warning("evidence-missing", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a repeater, gateway, simplex channel, place or phone number without a day on which somebody checked it.
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

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for fact in all_facts(facts).into_iter().filter(|fact| fact.seen.is_none()) {
        found.push(
            Finding::new(&RULE, fact.span, format!("nobody says when the {} was checked", fact.what))
                .label("without a day")
                .help(format!("look, then add `{}`", fact.key))
                .on(fact.on),
        );
    }
}
