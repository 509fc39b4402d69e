//! A fact that people act on should have been looked at within a year.

use super::Facts;
use super::evidence::facts as all_facts;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{EVIDENCE_DAYS, is_old};

/// A fact that people act on should have been looked at within a year.
pub(super) const RULE: Rule =
    Rule::warning("evidence-old", "common practice, no source: a year is this program's own limit", DOC);

const DOC: &str = r#"
Finds: a repeater, gateway, simplex channel, place or phone number last checked more than 365 days before the edition's issue.
Costs: repeaters lose their antenna, hospitals move their radio room, people change their number.

Wrong:
```toml
[[repeater]]
id = "mill-hill"
call = "WZ7QUM"
output = "147.180 MHz"
input = "+600 kHz"
tone-in = "88.5 Hz"
tone-out = "off"
verified = { on = 2024-05-04, by = "qra" }   # evidence-old
```
Right: look again, then write that day.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    for fact in all_facts(facts) {
        let Some(seen) = fact.seen else { continue };
        if !is_old(seen.value, edition.issued.value) {
            continue;
        }
        let days = edition.issued.value.days_since(seen.value);
        let what = format!("the {} was last checked on {}, {days} days before the issue", fact.what, seen.value);
        found.push(
            Finding::new(&RULE, seen.span, what)
                .label("too long ago")
                .and(edition.issued.span, "day of issue")
                .note(format!("the limit is {EVIDENCE_DAYS} days"))
                .help("look again, then write that day")
                .on(fact.on),
        );
    }
}
