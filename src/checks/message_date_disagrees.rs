//! Date and time filed of a message are of one zone.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Clock, subject};

/// Date and time filed of a message are of one zone.
pub(super) const RULE: Rule = Rule::warning(
    "message-date-disagrees",
    "the ARRL's rules for radiograms, second-hand: date and time are of one zone, 0215Z JUL 13 = 2215 EDT JUL 12",
    DOC,
);

const DOC: &str = r#"
Finds: a `[[message]]` that says when it was `filed`, and whose `date` or `time-filed` is not that moment in the zone of the time filed. In the evening it is tomorrow by UTC: 2215 EDT JUL 12 is 0215Z JUL 13.
Costs: a message looks a day older or newer than it is, and one that is to be canceled after some hours is delivered.

Wrong:
```toml
[[message]]
id = "beds"
number = 12
precedence = "Routine"
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
filed = "2026-12-05 18:15"
time-filed = "0115Z"
date = "DEC 5"              # message-date-disagrees
to = ["Duty officer"]
text = "TWELVE BEDS FREE"
signature = "Abel Quist"
```
Right: `date = "DEC 6"`, or the time by local clocks, `time-filed = "1815 MST"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    // Messages of a file without a plan have no zone to be judged by.
    if facts.plan.head.is_none() {
        return;
    }
    let clock = Clock::of(facts.plan);
    for message in facts.plan.messages.iter() {
        let (Some(filed), Some(time)) = (message.filed, message.time_filed) else { continue };
        let local = filed.value.as_naive().and_utc().timestamp().div_euclid(60);
        let Some((right_time, right_date)) = time.value.at(local - clock.ahead(filed.value)) else { continue };
        let mut tell = |span, written: String, right: String, label| {
            if written == right {
                return;
            }
            let what =
                format!("message {} was filed at {right_time} {right_date}, and says {written}", message.number.value);
            let finding = Finding::new(&RULE, span, what).label(label).and(filed.span, "filed then, by local clocks");
            found.push(finding.write(right).on(subject(message)));
        };
        tell(time.span, time.value.to_string(), right_time.to_string(), "is another time");
        tell(message.date.span, message.date.value.to_string(), right_date.to_string(), "is not the date in that zone");
    }
}
