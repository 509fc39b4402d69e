//! A duty ends after it begins.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Clock, Duty};

/// A duty ends after it begins.
pub(super) const RULE: Rule = Rule::of_format("duty-times-out-of-order", DOC);

const DOC: &str = r#"
Finds: a duty whose `to` is not after its `from`.
Costs: nobody knows when that post is stood.

Wrong:
```toml
[[post]]
id = "desk"
name = "Operations desk"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 18:00"
to = "2026-12-05 06:00"     # duty-times-out-of-order
```
Right: a night ends on the next day: `to = "2026-12-06 06:00"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let clock = Clock::of(facts.plan);
    let ends_early = |duty: &&Duty| clock.instant(duty.to.value) <= clock.instant(duty.from.value);
    for duty in facts.plan.duties.iter().filter(ends_early) {
        let what =
            format!("a duty at {} ends at {}, before it begins at {}", duty.post.value, duty.to.value, duty.from.value);
        found.push(
            Finding::new(&RULE, duty.to.span, what)
                .label("too early")
                .and(duty.from.span, "begins here")
                .help("a night ends on the next day: write that day"),
        );
    }
}
