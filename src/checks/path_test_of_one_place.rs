//! A path is tried between two places.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A path is tried between two places.
pub(super) const RULE: Rule = Rule::warning("path-test-of-one-place", "this program's own format", DOC);

const DOC: &str = r#"
Finds: a `[[path-test]]` from a place to itself.
Costs: the path that was meant stands on no sheet.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "other"
visited-on = 2026-10-04
position = "46.600, -112.000"

[[place]]
id = "hall"
code = "HAL"
tactical = "River Hall"
kind = "other"
visited-on = 2026-10-04
position = "46.620, -112.040"

[[channel]]
id = "tac"
row = 3
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.430 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[path-test]]
from = "mercy"
to = "mercy"       # path-test-of-one-place
channel = "tac"
on = 2026-10-04
result = "clear"
```
Right: write where it was heard, `to = "hall"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for test in facts.plan.path_tests.iter().filter(|test| test.from.value == test.to.value) {
        let Some(place) = facts.plan.places.get(&test.to.value) else { continue };
        found.push(
            Finding::new(&RULE, test.to.span, format!("a path is tried from {0} to {0}", place.tactical.value))
                .label("the same place again")
                .and(test.from.span, "sent here")
                .help("write the place where it was heard")
                .on(subject(place)),
        );
    }
}
