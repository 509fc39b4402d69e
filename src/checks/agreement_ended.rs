//! An agreement is in force when the edition counts.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::is_in_force;

/// An agreement is in force when the edition counts.
pub(super) const RULE: Rule = Rule::warning("agreement-ended", "the plan's own dates", DOC);

const DOC: &str = r#"
Finds: an agreement that has ended, or is not yet signed, on the first day of the edition. It gives no authority then, and its channels print "listen only".
Costs: people send on another's licence without leave.

Wrong:
```toml
[[agreement]]
id = "county"
with = "County Sheriff"
service = "interop"
signed = 2024-01-10
expires = 2026-10-31        # agreement-ended
```
Right: renew it and write the new day.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let start = edition.valid_from;
    for agreement in facts.plan.agreements.iter().filter(|agreement| !is_in_force(agreement, Some(start.value))) {
        let (at, how) = if agreement.expires.value < start.value {
            (agreement.expires, "ends")
        } else {
            (agreement.signed, "is signed")
        };
        let what = format!(
            "the agreement with {} {how} on {}, and the edition counts from {}: it gives no authority",
            agreement.with.value, at.value, start.value
        );
        found.push(
            Finding::new(&RULE, at.span, what)
                .label("not in force")
                .and(start.span, "the edition counts from here")
                .help("write the day of the renewed agreement")
                .on(subject(agreement)),
        );
    }
}
