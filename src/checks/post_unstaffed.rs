//! Somebody stands at a post all the time that it is stood.

use super::Facts;
use super::unstaffed::Unstaffed;
use crate::ground::{Findings, Rule};

/// Somebody stands at a post all the time that it is stood.
pub(super) const RULE: Rule = Rule::warning("post-unstaffed", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a post at which nobody stands for some time: within the incident's period or, in a plan without `[incident]`, from its first duty to its last (where nobody at all has duty for a day, another occasion begins). Two at one post and shifts that overlap are right. In a plan with `[incident]` and duties, a post without any is one too. One that controls a net is judged by `net-control-unstaffed`.
Costs: a station is missing from its nets, and nobody knows why.

Wrong:
```toml
[[post]]
id = "eoc"
name = "EOC"

[[duty]]
post = "eoc"
member = "qra"
from = "2026-12-05 00:00"
to = "2026-12-05 06:00"     # post-unstaffed

[[duty]]
post = "eoc"
member = "qra"
from = "2026-12-05 08:00"
to = "2026-12-05 18:00"
```
Right: write who stands there in between or, where the post is closed then, its hours: `from = "2026-12-05 08:00"` in `[[post]]`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let staff = facts.staff();
    let is_meant = |unstaffed: &Unstaffed<'_>| unstaffed.is_stood || facts.plan.incident.is_some();
    for unstaffed in facts.unstaffed().iter().filter(|unstaffed| is_meant(unstaffed)) {
        let post = unstaffed.post;
        if !staff.controlled_by(&post.id.value).is_empty() {
            continue;
        }
        let what = format!("from {} nobody stands at post {}", unstaffed.when, post.name.value);
        found.push(unstaffed.finding(facts.plan, &RULE, what, post.id.span));
    }
}
