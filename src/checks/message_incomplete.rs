//! A message has an address and words.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::groups;

/// A message has an address and words.
pub(super) const RULE: Rule = Rule::error("message-incomplete", "the ARRL's parts of a radiogram, from memory", DOC);

const DOC: &str = r#"
Finds: a `[[message]]` without a line of address, or whose text has no word that is sent: a full stop at its end is none.
Costs: it is relayed over four stations, and the last one knows nobody to deliver it to, or delivers nothing.

Wrong:
```toml
[[message]]
id = "beds"
number = 12
precedence = "Routine"
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
date = "DEC 5"
to = []                     # message-incomplete
text = "TWELVE BEDS FREE"
signature = "Abel Quist"
```
Right: `to = ["Duty officer", "Operations"]`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for message in facts.plan.messages.iter() {
        let number = message.number.value;
        let mut tell = |span, what: String, label, help: &str| {
            found.push(Finding::new(&RULE, span, what).label(label).help(help).on(subject(message)));
        };
        if message.to.value.is_empty() {
            let what = format!("message {number} has no address");
            tell(message.to.span, what, "says to nobody", "write a line for each part of it: to = [\"Duty officer\"]");
        }
        if groups(message.text.as_str()).is_empty() {
            let what = format!("message {number} has no word that is sent");
            tell(message.text.span, what, "is not sent", "write what it says, a full stop within it as X");
        }
    }
}
