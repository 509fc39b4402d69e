//! Something is brought into play for each objective.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Something is brought into play for each objective.
pub(super) const RULE: Rule = Rule::warning("objective-without-inject", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: an `[[objective]]` that no `[[inject]]` serves.
Costs: the exercise ends, and nobody can say whether it was reached.

Wrong:
```toml
[[exercise]]
name = "Long night"
from = "2026-12-05 08:00"
to = "2026-12-05 12:00"
real-emergency = "real emergency, real emergency"

[[objective]]
id = "relay"                # objective-without-inject
name = "Relay a message without a wrong word"
```
Right: name it in an inject, `objective = "relay"`, or leave it out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    if !plan.has_all(&["inject"]) {
        return;
    }
    for objective in plan.objectives.iter() {
        let serves =
            |inject: &crate::plan::Inject| inject.objective.as_ref().is_some_and(|id| id.value == objective.id.value);
        if plan.injects.iter().any(serves) {
            continue;
        }
        let what = format!("no inject serves the objective \"{}\"", objective.name.value);
        let finding = Finding::new(&RULE, objective.id.span, what).label("is never tried");
        let help = format!("write objective = \"{}\" in an inject", objective.id.value);
        found.push(finding.help(help).on(subject(objective)));
    }
}
