//! No two injects have one serial number.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, Span, Subject};
use std::collections::BTreeMap;

/// No two injects have one serial number.
pub(super) const RULE: Rule = Rule::of_format("inject-serial-taken", DOC);

const DOC: &str = r#"
Finds: two `[[inject]]` with one serial number.
Costs: two envelopes bear the same number, and the scoring sheet counts one of them twice.

Wrong:
```toml
[[exercise]]
name = "Long night"
from = "2026-12-05 08:00"
to = "2026-12-05 12:00"
real-emergency = "real emergency, real emergency"

[[place]]
id = "north-high"
code = "NHS"
tactical = "North High"
kind = "shelter"
visited-on = 2026-09-01

[[inject]]
serial = "7"
at = "2026-12-05 09:00"
deliver-at = "north-high"
to = "Shelter manager"
by = "paper"
text = "Water is rising at the door"

[[inject]]
serial = "7"                # inject-serial-taken
at = "2026-12-05 10:00"
deliver-at = "north-high"
to = "Shelter manager"
by = "paper"
text = "The lights go out"
```
Right: give each its own: `serial = "8"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut first: BTreeMap<&Id, Span> = BTreeMap::new();
    for inject in &facts.plan.injects {
        let serial = &inject.serial;
        let Some(other) = first.get(&serial.value) else {
            first.insert(&serial.value, serial.span);
            continue;
        };
        let what = format!("two injects have the serial {}", serial.value);
        let finding = Finding::new(&RULE, serial.span, what).label("is taken").and(*other, "the first of them");
        found.push(finding.help("give each its own").on(Subject::new("inject", &serial.value)));
    }
}
