//! Where the law limits radiated power and the plan knows the transmitter's alone, it says so.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::tables::PowerMeasure;

/// Where the law limits radiated power and the plan knows the transmitter's alone, it says so.
pub(super) const RULE: Rule = Rule {
    severity: Severity::Note,
    ..Rule::warning(
        "erp-assumed",
        "the rows of the profile; us: 47 CFR 97.313(i): a half-wave dipole is presumed to have 0 dBd",
        DOC,
    )
};

const DOC: &str = r#"
Finds: a channel or repeater under a limit of radiated power (ERP), whose transmitter power is taken for it: a half-wave dipole with 0 dBd and no loss is assumed.
Costs: an antenna with gain would break a limit that was found kept.

Wrong:
```toml
[[channel]]
id = "sixty"
row = 2
name = "HF 60"
spoken = "Sixty"
dial = "5330.5 kHz"
side = "USB"
power = "50 W"              # erp-assumed
verified = { on = 2026-10-01, by = "qra" }
```
Right: nothing to type: with an antenna of more gain, write less power.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let (Some(power), Ok(stretch)) = (sender.power(), facts.occupies(&sender)) else { continue };
        let binds = facts.profile.power_limits.iter().filter(|limit| {
            limit.most.measure == PowerMeasure::Erp && limit.classes.is_empty() && limit.edges.overlaps(&stretch)
        });
        let Some(limit) = binds.min_by_key(|limit| limit.most.power).filter(|limit| power.value <= limit.most.power)
        else {
            continue;
        };
        let what = format!(
            "{} has {} from its transmitter, and the limit of {} is ERP: an antenna of 0 dBd is assumed",
            sender.words(),
            power.value,
            limit.most.power
        );
        found.push(
            Finding::new(&RULE, power.span, what)
                .label("taken as radiated power")
                .note(limit.cite.source.clone())
                .on_all(sender.from.subject()),
        );
    }
}
