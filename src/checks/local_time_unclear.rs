//! Clocks show a written time once.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule};
use crate::plan::LocalTime;
use crate::reckon::{Clock, Shown};

/// Clocks show a written time once.
pub(super) const RULE: Rule = Rule::warning(
    "local-time-unclear",
    "the time zone database; how such times are read: RFC 5545, 3.3.5, from memory",
    DOC,
);

const DOC: &str = r#"
Finds: a time of a duty, a post, the incident, the exercise or an inject that the clocks of the plan's time zone show twice, or never, because they change in that night. Of a time that comes twice the first is meant; one that never comes is read as if the clocks had not yet gone forward.
Costs: one operator goes an hour before the next one comes.

Wrong:
```toml
[[post]]
id = "desk"
name = "Operations desk"

[[duty]]
post = "desk"
member = "qra"
from = "2027-03-13 18:00"
to = "2027-03-14 02:30"     # local-time-unclear
```
Right: change shifts at another hour of that night: `to = "2027-03-14 04:00"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(head) = &plan.head else { return };
    let clock = Clock::of(plan);
    let duties = plan.duties.iter().flat_map(|duty| [duty.from, duty.to]);
    let posts = plan.posts.iter().flat_map(|post| [post.from, post.to]).flatten();
    let incident = plan.incident.iter().flat_map(|incident| [incident.from, incident.to]);
    let exercise = plan.exercise.iter().flat_map(|exercise| [exercise.from, exercise.to]);
    let injects = plan.injects.iter().map(|inject| inject.at);
    let times: Vec<At<LocalTime>> = duties.chain(posts).chain(incident).chain(exercise).chain(injects).collect();
    for time in times {
        let (what, note) = match clock.shown(time.value) {
            Shown::Once => continue,
            Shown::Twice => ("twice", "read as the first of the two"),
            Shown::Never => ("never", "read as if the clocks had not yet gone forward"),
        };
        let zone = head.time_zone.value;
        found.push(
            Finding::new(&RULE, time.span, format!("clocks in {zone} show {} {what}", time.value))
                .label(format!("comes {what}"))
                .and(head.time_zone.span, "by the clocks of this zone")
                .note(note)
                .help("write an hour before or after the clocks change: change shifts then"),
        );
    }
}
