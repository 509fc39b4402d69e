//! A member is at one place at a time.

use super::Facts;
use super::member_at_two_posts::doubles;
use crate::ground::{Findings, Rule};

/// A member is at one place at a time.
pub(super) const RULE: Rule = Rule::of_format("member-at-two-places", DOC);

const DOC: &str = r#"
Finds: a member with duties at two posts of different places whose times overlap. Nobody can be at two places, so that one of the two duties is surely not done: an error, unlike two posts of one place (`member-at-two-posts`). A duty may begin in the minute in which another ends.
Costs: a post that everybody believes to be staffed is empty.

Wrong:
```toml
[[place]]
id = "eoc"
code = "EOC"
tactical = "Operations"
kind = "operations-centre"
jack = "none"
visited-on = 2026-09-01

[[place]]
id = "north-high"
code = "NHS"
tactical = "North High"
kind = "shelter"
jack = "none"
visited-on = 2026-09-01

[[post]]
id = "desk"
name = "Desk"
place = "eoc"

[[post]]
id = "shelter"
name = "Shelter radio"
place = "north-high"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"

[[duty]]
post = "shelter"
member = "qra"              # member-at-two-places
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: give one of the posts to somebody else, or let one duty begin when the other has ended.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for double in doubles(facts).into_iter().filter(|double| double.is_apart) {
        found.push(double.finding(facts, &RULE, "at once, which are two places"));
    }
}
