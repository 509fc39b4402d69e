//! Where a row leads on is another channel.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Where a row leads on is another channel.
pub(super) const RULE: Rule = Rule::of_format("next-is-own-channel", DOC);

const DOC: &str = r#"
Finds: a channel whose `next` is the channel itself.
Costs: the card says to move to where nobody answers.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
next = "tac-1"              # next-is-own-channel
after = "2 min"
verified = { on = 2026-10-01, by = "qra" }
```
Right: name another channel, or remove `next` and `after`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some(next) = channel.next.as_ref().filter(|next| *next.value == channel.id.value) else { continue };
        found.push(
            Finding::new(&RULE, next.span, format!("the next channel after {} is {0} itself", channel.name.value))
                .label("the same channel")
                .and(channel.id.span, "this channel")
                .help("name another channel, or remove `next` and `after`")
                .on(subject(channel)),
        );
    }
}
