//! A message that is urgent, or is canceled after some hours, says when it was filed.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A message that is urgent, or is canceled after some hours, says when it was filed.
pub(super) const RULE: Rule =
    Rule::warning("message-time-missing", "the ARRL's rules for the time filed of a radiogram, second-hand", DOC);

const DOC: &str = r#"
Finds: a `[[message]]` without `time-filed` that has one of the two highest precedences of the scale, or the handling instruction HXB, whose hours count from it.
Costs: nobody knows how old an urgent message is, and whether it is still to be delivered.

Wrong:
```toml
[[message]]
id = "beds"
number = 12
precedence = "Priority"     # message-time-missing
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
date = "DEC 6"
to = ["Duty officer"]
text = "TWELVE BEDS FREE"
signature = "Abel Quist"
```
Right: add the time with its zone: `time-filed = "0115Z"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for message in facts.plan.messages.iter().filter(|message| message.time_filed.is_none()) {
        let place = message.precedence.value.of_scale(&facts.profile.precedence);
        let (span, why) = match (place, message.handling.iter().find(|handling| handling.value.counts_from_filing())) {
            (Some((0 | 1, word)), _) => (message.precedence.span, format!("the precedence {word}")),
            (_, Some(handling)) => (handling.span, format!("the instruction {}", handling.value)),
            _ => continue,
        };
        let what = format!("message {} has {why}, and does not say when it was filed", message.number.value);
        let finding = Finding::new(&RULE, span, what).label("asks for the time filed").on(subject(message));
        found.push(finding.help("add it with its zone: time-filed = \"0115Z\""));
    }
}
