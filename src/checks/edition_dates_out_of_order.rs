//! An edition is issued, then counts, then is reviewed.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};

/// An edition is issued, then counts, then is reviewed.
pub(super) const RULE: Rule = Rule::of_format("edition-dates-out-of-order", DOC);

const DOC: &str = r#"
Finds: an edition that counts before it is issued, or is reviewed before it counts.
Costs: two editions count on the same day, or none.

Wrong:
```toml
[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2026-06-01      # edition-dates-out-of-order
prepared-by = "qra"
approved-by = "qra"
```
Right: write the days in order: issued, valid-from, review-by.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let pairs = [
        ("valid-from", edition.valid_from, "issued", edition.issued, false),
        ("review-by", edition.review_by, "valid-from", edition.valid_from, true),
    ];
    for (later_name, later, earlier_name, earlier, must_differ) in pairs {
        let is_in_order = if must_differ { later.value > earlier.value } else { later.value >= earlier.value };
        if is_in_order {
            continue;
        }
        let what = format!("{later_name} {} does not come after {earlier_name} {}", later.value, earlier.value);
        found.push(
            Finding::new(&RULE, later.span, what)
                .label("too early")
                .and(earlier.span, format!("{earlier_name} is this day")),
        );
    }
}
