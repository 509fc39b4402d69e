//! The check of a message is the count of its text.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{WordCheck, subject};
use crate::reckon::{groups, is_arl};

/// The check of a message is the count of its text.
pub(super) const RULE: Rule =
    Rule::warning("message-check-wrong", "the ARRL's rules for the check of a radiogram, from memory", DOC);

const DOC: &str = r#"
Finds: a `[[message]]` whose check is not the count of its text. What stands between spaces counts one: a word, figures, a mixed group. A full stop within the text is sent as X and counts one; at its end none is sent. A question mark is sent as QUERY. A text that uses a numbered text has ARL before its check.
Costs: every station that relays it asks for repeats of a text that was right, or takes a text with a word missing for whole.

Wrong:
```toml
[[message]]
id = "beds"
number = 12
precedence = "Routine"
station-of-origin = "WZ7QRA"
check = 5                   # message-check-wrong
place-of-origin = "Sorrel MT"
date = "DEC 5"
to = ["Duty officer"]
text = "TWELVE BEDS FREE X SEND WATER"
signature = "Abel Quist"
```
Right: `check = 6`: the X counts. Leave it out, and it is counted.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for message in facts.plan.messages.iter() {
        let Some(written) = message.check else { continue };
        let groups = groups(message.text.as_str());
        let right = WordCheck { is_arl: is_arl(message.text.as_str()), count: groups.len() };
        if written.value == right {
            continue;
        }
        let what =
            format!("message {} has the check {}, and its text counts {right}", message.number.value, written.value);
        let typed = if right.is_arl { format!("\"{right}\"") } else { right.to_string() };
        let finding = Finding::new(&RULE, written.span, what).label("is not the count");
        let start = groups.iter().take(8).cloned().collect::<Vec<_>>().join(" ");
        found.push(
            finding
                .and(message.text.span, format!("counted as {start}{}", if groups.len() > 8 { " ..." } else { "" }))
                .help(format!("write {typed}"))
                .fix(written.span, typed)
                .on(subject(message)),
        );
    }
}
