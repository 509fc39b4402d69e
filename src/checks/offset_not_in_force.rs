//! An offset from UTC that is written with a time is that of the clocks there then.

use super::Facts;
use super::local_times::local_times;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::Clock;

/// An offset from UTC that is written with a time is that of the clocks there then.
pub(super) const RULE: Rule = Rule::of_format("offset-not-in-force", DOC);

const DOC: &str = r#"
Finds: a time that is written with its offset from UTC, as `"2027-11-07 01:30-06:00"`, where the clocks of the plan's time zone have another one at that time, or never show it. The offset tells which is meant of two times that clocks show alike; it may stand behind any other time too, and then it is checked.
Costs: an hour between who goes and who comes.

Wrong:
```toml
[[post]]
id = "desk"
name = "Operations desk"

[[duty]]
post = "desk"
member = "qra"
from = "2027-01-16 06:00-06:00"     # offset-not-in-force
to = "2027-01-16 18:00"
```
Right: in Denver clocks are 7 h behind UTC in winter: `from = "2027-01-16 06:00-07:00"`, or without the offset.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(head) = &facts.plan.head else { return };
    let clock = Clock::of(facts.plan);
    for (_, time) in local_times(facts.plan).into_iter().filter(|(_, time)| !clock.has_offset(time.value)) {
        let zone = head.time_zone.value;
        let readings = clock.readings(time.value);
        let what = match readings.is_empty() {
            true => format!("clocks in {zone} never show {}", time.value),
            false => format!("clocks in {zone} have another offset than that of {}", time.value),
        };
        let finding = Finding::new(&RULE, time.span, what)
            .label("not in force then")
            .and(head.time_zone.span, "by the clocks of this zone");
        found.push(match readings.as_slice() {
            [] => finding.write(clock.local(clock.instant(time.value))),
            [only] => finding.write(clock.with_offset(*only)),
            [first, second, ..] => {
                finding.help(format!("write \"{}\" or \"{}\"", clock.with_offset(*first), clock.with_offset(*second)))
            }
        });
    }
}
