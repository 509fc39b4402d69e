//! A channel that every agency knows by one name bears that name.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel that every agency knows by one name bears that name.
pub(super) const RULE: Rule = Rule::warning(
    "standard-name-differs",
    "national interoperability field operations guide v2.02, January 2025 (second-hand)",
    DOC,
);

const DOC: &str = r#"
Finds: a national interoperability channel under another name than its own.
Costs: two agencies on one channel that each looks for under another name.

Wrong:
```toml
[[channel]]
id = "fire-call"
row = 2
name = "FIRE CALL"          # standard-name-differs
spoken = "Fire Call"
service = "interop"
rx = "155.7525 MHz"
tx = "none"
```
Right: write `name = "VCALL10"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        if !channel.service.has_standard_names {
            continue;
        }
        // One listens on the frequency alone; where it is sent, the pair tells two names apart.
        let send = channel.send.map(|send| send.value);
        let is_it = |hear, input: Option<_>| match send {
            Some(send) if send != channel.hear.value => channel.hear.value == hear && input == Some(send),
            Some(_) => channel.hear.value == hear && input.is_none(),
            None => channel.hear.value == hear,
        };
        let names: Vec<&str> = facts
            .profile
            .channels_of(&channel.service)
            .filter(|row| is_it(row.frequency, row.input))
            .map(|row| row.name.as_str())
            .collect();
        let own = channel.name.as_str();
        if names.is_empty() || names.iter().any(|name| name.eq_ignore_ascii_case(own)) {
            continue;
        }
        let what = format!("channel {own} on {} is {} to every agency", channel.hear.value, names.join(" or "));
        found.push(
            Finding::new(&RULE, channel.name.span, what)
                .label("another name")
                .and(channel.hear.span, "on this frequency")
                .help(format!("write `name = \"{}\"`", names.join("\"` or `name = \"")))
                .fix(channel.name.span, format!("\"{}\"", names.first().copied().unwrap_or_default()))
                .on(subject(channel)),
        );
    }
}
