//! In a service licensed by rule its limits hold.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity, Span};
use crate::plan::{Channel, subject};
use crate::reckon::emission_of;
use crate::tables::ServiceChannel;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// In a service licensed by rule its limits hold.
pub(super) const RULE: Rule = Rule {
    name: "service-limit-exceeded",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR Part 95",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel of a service licensed by rule (FRS, MURS) with a wider signal or more power than that channel allows.
Costs: the service asks for no licence because its radios stay within these limits.

Wrong:
```toml
[[channel]]
id = "block"
slot = 2
name = "FRS 1"
spoken = "Family One"
service = "frs"
simplex = "462.5625 MHz"
width = "narrow"
power = "5 W"               # service-limit-exceeded
```
Right: write `power = "2 W"`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some(send) = channel.send else { continue };
        let service = channel.service.value.word();
        let is_row = |row: &&ServiceChannel| row.service == service && row.frequency == send.value;
        let Some(row) = facts.profile.service_channels.iter().find(is_row) else { continue };
        if let Some(power) = channel.power.filter(|power| power.value > row.most) {
            let what =
                format!("channel {} allows {}, where {} has {}", channel.name.value, power.value, row.name, row.most);
            found.push(
                finding(channel, row, power.span, what).help(format!("write `power = \"{}\"` or less", row.most)),
            );
        }
        let Ok(emission) = emission_of(&channel.signal, &facts.tables.modes) else { continue };
        if emission.width() > row.width {
            let what = format!(
                "channel {} is {} wide, where {} has {}",
                channel.name.value,
                emission.width(),
                row.name,
                row.width
            );
            let written = channel.signal.emission.as_ref().map_or(channel.signal.width.span, |emission| emission.span);
            found.push(finding(channel, row, written, what).help("write `width = \"narrow\"`"));
        }
    }
}

fn finding(channel: &Channel, row: &ServiceChannel, at: Span, what: String) -> Finding {
    Finding::new(&RULE, at, what)
        .label("too much for this service")
        .and(channel.hear.span, row.name.clone())
        .note(row.cite.source.clone())
        .on(subject(channel))
}
