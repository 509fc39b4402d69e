//! What a place of medical care agreed to is asked again within a year.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::{EVIDENCE_DAYS, is_old};

/// What a place of medical care agreed to is asked again within a year.
pub(super) const RULE: Rule =
    Rule::warning("place-agreement-old", "common practice, no source: a year is this program's own limit", DOC);

const DOC: &str = r#"
Finds: a hospital, blood center or clinic whose agreement about transmitting was made more than 365 days before the edition's issue.
Costs: new equipment, a new wing, another chief engineer: nobody there may remember what was allowed.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
transmit = { allowed = "roof only", agreed-by = "Clinical engineering", on = 2019-05-02 }   # place-agreement-old
```
Right: ask again, then write that day.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    for place in facts.plan.places.iter().filter(|place| place.kind.value.is_medical()) {
        let Some(on) = place.transmit.as_ref().and_then(|limit| limit.on) else { continue };
        if !is_old(on.value, edition.issued.value) {
            continue;
        }
        let days = edition.issued.value.days_since(on.value);
        let what = format!(
            "{} agreed to transmitting there on {}, {days} days before the issue",
            place.tactical.value, on.value
        );
        found.push(
            Finding::new(&RULE, on.span, what)
                .label("too long ago")
                .and(edition.issued.span, "day of issue")
                .note(format!("the limit is {EVIDENCE_DAYS} days"))
                .help("ask the site again, then write that day")
                .on(subject(place)),
        );
    }
}
