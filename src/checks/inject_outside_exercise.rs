//! Injects are delivered while the exercise lasts.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Subject};
use crate::plan::Clock;
use crate::reckon::exercise_period;

/// Injects are delivered while the exercise lasts.
pub(super) const RULE: Rule = Rule::of_format("inject-outside-exercise", DOC);

const DOC: &str = r#"
Finds: an `[[inject]]` whose time lies before the exercise begins or after it ends, or one in a plan without `[[exercise]]`.
Costs: a controller hands over an envelope when the players have gone home, and somebody takes it for real.

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
at = "2026-12-05 13:00"     # inject-outside-exercise
deliver-at = "north-high"
to = "Shelter manager"
by = "paper"
text = "Water is rising at the door"
```
Right: a time from 08:00 to 12:00.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let clock = Clock::of(plan);
    let Some(exercise) = &plan.exercise else {
        if let Some(inject) = plan.injects.first().filter(|_| plan.has_all(&["exercise"])) {
            let what = "the plan has injects, and no [[exercise]]".to_owned();
            let finding = Finding::new(&RULE, inject.serial.span, what).label("belongs to no exercise");
            found.push(finding.help("add [[exercise]] with name, from, to and real-emergency"));
        }
        return;
    };
    let period = exercise_period(plan, exercise);
    for inject in &plan.injects {
        let at = clock.instant(inject.at.value);
        let (side, limit) = match (at < period.from, at > period.to) {
            (true, _) => ("before the exercise begins", exercise.from),
            (_, true) => ("after the exercise ends", exercise.to),
            _ => continue,
        };
        let what =
            format!("inject {} is delivered at {}, {side} at {}", inject.serial.value, inject.at.value, limit.value);
        let finding = Finding::new(&RULE, inject.at.span, what).label("nobody is there to take it");
        let help = format!("write a time from {} to {}", exercise.from.value, exercise.to.value);
        found.push(finding.and(limit.span, "the limit").help(help).on(Subject::new("inject", &inject.serial.value)));
    }
}
