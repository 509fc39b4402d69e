//! An agreement should last as long as the edition.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::is_in_force;

/// An agreement should last as long as the edition.
pub(super) const RULE: Rule = Rule::warning("agreement-ends-in-edition", "the plan's own dates", DOC);

const DOC: &str = r#"
Finds: an agreement that ends before the day by which the edition is to be reviewed.
Costs: from that day on the cards tell people to send without leave.

Wrong:
```toml
[[agreement]]
id = "county"
with = "County Sheriff"
service = "interop"
signed = 2025-01-10
expires = 2027-01-10        # agreement-ends-in-edition
```
Right: renew it first, or review the edition before it ends.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let (start, review) = (edition.valid_from.value, edition.review_by);
    for agreement in facts.plan.agreements.iter().filter(|agreement| is_in_force(agreement, Some(start))) {
        if agreement.expires.value >= review.value {
            continue;
        }
        let what = format!(
            "the agreement with {} ends on {}, before the review on {}",
            agreement.with.value, agreement.expires.value, review.value
        );
        found.push(
            Finding::new(&RULE, agreement.expires.span, what)
                .label("ends while this edition counts")
                .and(review.span, "reviewed by this day")
                .help("renew it and write the new day, or review the edition earlier")
                .on(subject(agreement)),
        );
    }
}
