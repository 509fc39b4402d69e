//! A channel of a service whose rules are not checked must be for listening.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, subject};
use crate::reckon::agreements;
use crate::tables::Authority;

/// A channel of a service whose rules are not checked must be for listening.
pub(super) const RULE: Rule = Rule::error(
    "transmit-not-checked",
    "us: 47 CFR 97.111, 97.403: they give an amateur no right in another service",
    DOC,
);

const DOC: &str = r#"
Finds: a channel on which the plan sends in a service to listen to (weather broadcasts), or in one that the profile says nothing of, where no agreement covers the channel.
Costs: the card would tell somebody to send where nobody looked whether they may.

Wrong:
```toml
[[channel]]
id = "fire"
row = 2
name = "FIRE 2"
spoken = "Fire Two"
service = "land-mobile"
simplex = "154.2800 MHz"    # transmit-not-checked
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `rx = "154.2800 MHz"` and `tx = "none"`, or the `[[agreement]]` under which you may send.
"#;

/// Whether nobody may send on a channel of another service, whatever they hold; amateur channels never are.
pub(super) fn is_refused(facts: Facts<'_>, channel: &Channel) -> bool {
    if channel.service.is_amateur() || channel.send.is_none() {
        return false;
    }
    match channel.service.authority {
        Some(authority) => authority == Authority::Nobody,
        // Who gives the agreement answers for its terms.
        None => agreements(facts.plan, channel, None).next().is_none(),
    }
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| is_refused(facts, channel)) {
        let Some(send) = channel.send else { continue };
        let service = &channel.service.value;
        let why = match service.authority {
            Some(_) => "in which nobody of a team sends",
            None => "whose rules are not checked",
        };
        let what = format!("channel {} sends on {} in the {service} service, {why}", channel.name.value, send.value);
        found.push(
            Finding::new(&RULE, send.span, what)
                .label("would be sent on")
                .and(channel.service.span, "not the amateur service")
                .note("an amateur licence gives no right in another service")
                .help(format!("write `rx = \"{}\"` and `tx = \"none\"` to listen only", channel.hear.value))
                .on(subject(channel)),
        );
    }
}
