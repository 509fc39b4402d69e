//! The incident, the exercise and the hours of a post end after they begin.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule};
use crate::plan::{Clock, LocalTime};

/// The incident, the exercise and the hours of a post end after they begin.
pub(super) const RULE: Rule = Rule::of_format("hours-out-of-order", DOC);

const DOC: &str = r#"
Finds: an `[incident]`, an `[[exercise]]` or a `[[post]]` whose `to` is not after its `from`.
Costs: nobody knows when posts are to be stood, and no gap is found.

Wrong:
```toml
[[post]]
id = "desk"
name = "Operations desk"
from = "2026-12-05 18:00"
to = "2026-12-05 06:00"     # hours-out-of-order
```
Right: a night ends on the next day: `to = "2026-12-06 06:00"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let clock = Clock::of(plan);
    let incident = plan.incident.iter().map(|incident| ("the incident".to_owned(), incident.from, incident.to));
    let exercise = plan.exercise.iter().map(|exercise| ("the exercise".to_owned(), exercise.from, exercise.to));
    let post = |post: &crate::plan::Post| Some((format!("post {}", post.name.value), post.from?, post.to?));
    let hours: Vec<(String, At<LocalTime>, At<LocalTime>)> =
        incident.chain(exercise).chain(plan.posts.iter().filter_map(post)).collect();
    for (name, from, to) in hours {
        if clock.instant(from.value) < clock.instant(to.value) {
            continue;
        }
        let what = format!("{name} ends at {}, before it begins at {}", to.value, from.value);
        found.push(
            Finding::new(&RULE, to.span, what)
                .label("too early")
                .and(from.span, "begins here")
                .help("a night ends on the next day: write that day"),
        );
    }
}
