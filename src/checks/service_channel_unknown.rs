//! In a service with fixed channels one sends on these alone.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::subject;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// In a service with fixed channels one sends on these alone.
pub(super) const RULE: Rule = Rule {
    name: "service-channel-unknown",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR Part 95",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel that sends in a service licensed by rule (FRS, MURS) on a frequency that is none of that service's channels, or on two frequencies.
Costs: an unlawful signal, on somebody else's frequency.

Wrong:
```toml
[[channel]]
id = "block"
slot = 2
name = "FRS 1"
spoken = "Family One"
service = "frs"
simplex = "462.5600 MHz"    # service-channel-unknown
width = "narrow"
```
Right: write the channel's frequency: `simplex = "462.5625 MHz"`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some(send) = channel.send else { continue };
        let service = channel.service.value.word();
        let rows = || facts.profile.service_channels.iter().filter(|row| row.service == service);
        let is_listed = rows().any(|row| row.frequency == send.value) && channel.hear.value == send.value;
        let near = rows().min_by_key(|row| (row.frequency - send.value).size());
        let Some(near) = near.filter(|_| !is_listed) else { continue };
        let what = format!("channel {} sends on {}, which is no channel of {service}", channel.name.value, send.value);
        found.push(
            Finding::new(&RULE, send.span, what)
                .label("no channel of this service")
                .note(near.cite.source.clone())
                .help(format!("write `simplex = \"{}\"`, {}", near.frequency, near.name))
                .on(subject(channel)),
        );
    }
}
