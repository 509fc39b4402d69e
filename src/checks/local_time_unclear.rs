//! Clocks show a written time once.

use super::Facts;
use super::local_times::local_times;
use crate::ground::{Finding, Findings, Rule, Span};
use crate::plan::{Clock, Instant, LocalTime, Shown, subject};
use crate::reckon::{clear_time, unclear_meetings};

/// Clocks show a written time once.
pub(super) const RULE: Rule = Rule::warning(
    "local-time-unclear",
    "the time zone database; how such times are read: RFC 5545, 3.3.5, from memory",
    DOC,
);

const DOC: &str = r#"
Finds: a time of a duty, a post, the incident, the exercise, an inject or a message, or of a net's `schedule` while the edition is valid, that the clocks of the plan's time zone show twice, or never, because they change in that night. Of a time that comes twice the first is meant, unless it is written with its offset from UTC: `"2027-11-07 01:30-06:00"`; one that never comes is read as if the clocks had not yet gone forward.
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
Right: what the clocks show then, `to = "2027-03-14 03:30"`; of a time that comes twice, `"2027-11-07 01:30-06:00"` says which.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(head) = &plan.head else { return };
    let (clock, zone) = (Clock::of(plan), head.time_zone.value);
    let tell = |time: LocalTime, span: Span| {
        let twice = clock.readings(time).len() > 1;
        let (what, note) = match twice {
            true => ("twice", "read as the first of the two"),
            false => ("never", "read as if the clocks had not yet gone forward"),
        };
        Finding::new(&RULE, span, format!("clocks in {zone} show {time} {what}"))
            .label(format!("comes {what}"))
            .and(head.time_zone.span, "by the clocks of this zone")
            .note(note)
    };
    for (key, time) in local_times(plan).into_iter().filter(|(_, time)| clock.shown(time.value) != Shown::Once) {
        let finding = tell(time.value, time.span);
        let told = |at: Instant| {
            format!("{key} = \"{}\", which is {} UTC", clock.with_offset(at), at.utc().as_naive().format("%H:%M"))
        };
        found.push(match clock.readings(time.value).as_slice() {
            [first, second, ..] => finding.help(format!("write {}, or {}", told(*first), told(*second))),
            _ => finding.write(clock.local(clock.instant(time.value))),
        });
    }
    for net in plan.nets.iter() {
        for meeting in &net.meetings {
            for time in unclear_meetings(plan, meeting) {
                let finding = tell(time, meeting.at.span);
                let clear = clear_time(plan, meeting);
                let clear = clear.map(|at| format!("meet at another time of day: at = \"{at}\""));
                found.push(
                    finding.on(subject(net)).help(clear.unwrap_or_else(|| "meet at another time of day".to_owned())),
                );
            }
        }
    }
}
