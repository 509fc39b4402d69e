//! An emission designator must be one.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Route, subject};
use crate::reckon::Emission;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// An emission designator must be one.
pub(super) const RULE: Rule = Rule {
    name: "emission-unreadable",
    severity: Severity::Error,
    waivable: false,
    source: "47 CFR 2.201, 2.202; ITU Radio Regulations Appendix 1",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: an emission designator that cannot be read.
Costs: the width decides whether a signal stays inside its band.

Wrong:
```toml
[[channel]]
id = "tac"
slot = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.560 MHz"
emission = "16KF3E"         # emission-unreadable
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `emission = "16K0F3E"`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let of_channels =
        facts.plan.channels.iter().filter(|channel| !matches!(channel.route, Route::Repeater(_) | Route::Gateway(_)));
    let signals = of_channels
        .map(|channel| (&channel.signal, subject(channel)))
        .chain(facts.plan.repeaters.iter().map(|repeater| (&repeater.signal, subject(repeater))))
        .chain(facts.plan.gateways.iter().map(|gateway| (&gateway.signal, subject(gateway))));
    for (signal, on) in signals {
        let Some(written) = &signal.emission else { continue };
        let Err(refusal) = Emission::parse(written.as_str()) else { continue };
        let finding = Finding::new(&RULE, written.span, refusal.what).label("cannot be read").on(on);
        found.push(match refusal.help {
            Some(help) => finding.help(help),
            None => finding,
        });
    }
}
