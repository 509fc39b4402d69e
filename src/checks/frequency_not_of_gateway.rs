//! A channel must not seek its gateway where that is not.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel must not seek its gateway where that is not.
pub(super) const RULE: Rule = Rule { since: "0.3.0", ..Rule::of_format("frequency-not-of-gateway", DOC) };

const DOC: &str = r#"
Finds: a channel to a gateway with `on`, where the gateway's `frequency` has no such one.
Costs: the card says to call on a frequency on which nothing answers.

Wrong:
```toml
[[gateway]]
id = "mailbox"
call = "WZ7QUM-1"
frequency = ["145.050 MHz", "144.930 MHz"]
control = "attended"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "mail"
row = 2
name = "MAIL"
spoken = "Mail"
gateway = "mailbox"
on = "144.910 MHz"          # frequency-not-of-gateway
```
Right: write one of the gateway's, `on = "144.930 MHz"`, or leave `on` out for the first of them.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let gateway = channel.gateway().and_then(|id| facts.plan.gateways.get(id));
        let Some(own) = gateway.map(|gateway| &gateway.frequency) else { continue };
        if own.value.all().any(|frequency| frequency.value == channel.hear.value) {
            continue;
        }
        let name = gateway.map_or("", |gateway| gateway.name.as_str());
        let what = format!(
            "channel {} calls gateway {name} on {}, and that is on {}",
            channel.name.value,
            channel.hear.value,
            own.value.words()
        );
        found.push(
            Finding::new(&RULE, channel.hear.span, what)
                .label("not there")
                .and(own.span, "it is on these")
                .help("write one of the gateway's frequencies, or leave `on` out for the first")
                .on(subject(channel)),
        );
    }
}
