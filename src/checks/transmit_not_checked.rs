//! A channel of a service whose rules are not checked must be for listening.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Service, subject};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// A channel of a service whose rules are not checked must be for listening.
pub(super) const RULE: Rule = Rule {
    name: "transmit-not-checked",
    severity: Severity::Error,
    waivable: false,
    source: "us: 47 CFR 97.111, 97.403; an amateur licence gives no right in another service",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel on which the plan sends in a service whose rules are not checked: all but amateur, and those whose channels the profile lists (FRS, MURS).
Costs: the card would tell somebody to send where nobody looked whether they may.

Wrong:
```toml
[[channel]]
id = "vcall"
slot = 2
name = "VCALL10"
spoken = "Vee Call"
service = "interop"
simplex = "155.7525 MHz"    # transmit-not-checked
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `rx = "155.7525 MHz"` and `tx = "off"`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.service.value != Service::Amateur) {
        let Some(send) = channel.send else { continue };
        // A service with rows in the profile has rules of its own.
        if facts.profile.service_channels.iter().any(|row| row.service == channel.service.value.word()) {
            continue;
        }
        let what = format!(
            "channel {} sends on {} in the {} service, whose rules are not checked",
            channel.name.value, send.value, channel.service.value
        );
        found.push(
            Finding::new(&RULE, send.span, what)
                .label("would be sent on")
                .and(channel.service.span, "not the amateur service")
                .note("an amateur licence gives no right in another service")
                .help(format!("write `rx = \"{}\"` and `tx = \"off\"` to listen only", channel.hear.value))
                .on(subject(channel)),
        );
    }
}
