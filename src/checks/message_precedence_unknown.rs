//! The precedence of a message is one of the scale in force.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, nearest};
use crate::plan::subject;

/// The precedence of a message is one of the scale in force.
pub(super) const RULE: Rule = Rule::warning(
    "message-precedence-unknown",
    "the scale of the profile; us: the ARRL's precedences, second-hand",
    DOC,
);

const DOC: &str = r#"
Finds: a `[[message]]` whose precedence is none of the profile's scale. The highest is always spelled out; the others may be written by their first letter. Scales differ from system to system: what is second in one is first in another.
Costs: a message waits behind others, or goes before them, because two stations read its precedence by two scales.

Wrong:
```toml
[[message]]
id = "beds"
number = 12
precedence = "Immediate"    # message-precedence-unknown
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
time-filed = "0115Z"
date = "DEC 6"
to = ["Duty officer"]
text = "TWELVE BEDS FREE"
signature = "Abel Quist"
```
Right: a word of the scale: `precedence = "Priority"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let scale = &facts.profile.precedence;
    if scale.is_empty() {
        return;
    }
    for message in facts.plan.messages.iter() {
        let written = &message.precedence;
        if written.value.of_scale(scale).is_some() {
            continue;
        }
        let what = format!("message {} has the precedence \"{}\"", message.number.value, written.value.word);
        let finding = Finding::new(&RULE, written.span, what).label("is none of the scale");
        let finding = finding.note(format!("the scale in force is {}", scale.join(", "))).on(subject(message));
        let mark = written.value.drill.map(|word| format!("{word} ")).unwrap_or_default();
        found.push(match nearest(&written.value.word, scale.iter().map(String::as_str)) {
            Some(near) => finding.did_you_mean(format!("{mark}{near}")),
            None => finding.help(format!("write one of {}", scale.join(", "))),
        });
    }
}
