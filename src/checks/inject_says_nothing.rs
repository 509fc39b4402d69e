//! An inject says something.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Subject};

/// An inject says something.
pub(super) const RULE: Rule = Rule::of_format("inject-says-nothing", DOC);

const DOC: &str = r#"
Finds: an `[[inject]]` with neither a `text` nor a `message`.
Costs: an empty card in a sealed envelope, which is noticed when it is opened.

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
serial = "7"                # inject-says-nothing
at = "2026-12-05 09:00"
deliver-at = "north-high"
to = "Shelter manager"
by = "paper"
```
Right: add what it says, `text = "Water is rising at the door"`, or the message that it hands over.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let is_empty = |inject: &&crate::plan::Inject| inject.text.is_none() && inject.message.is_none();
    for inject in facts.plan.injects.iter().filter(is_empty) {
        let what = format!("inject {} has neither a text nor a message", inject.serial.value);
        let finding = Finding::new(&RULE, inject.serial.span, what).label("says nothing");
        let finding = finding.help("add `text = \"...\"`, or `message` with the id of one");
        found.push(finding.on(Subject::new("inject", &inject.serial.value)));
    }
}
