//! An emission designator must be one.

use crate::ground::{Finding, Refusal, Rule};
use crate::reckon::Transmission;

/// An emission designator must be one.
pub(super) const RULE: Rule =
    Rule::error("emission-unreadable", "47 CFR 2.201, 2.202; ITU Radio Regulations Appendix 1", DOC);

const DOC: &str = r#"
Finds: an emission designator that cannot be read.
Costs: the width decides whether a signal stays inside its band.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.560 MHz"
emission = "16KF3E"         # emission-unreadable
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `emission = "16K0F3E"`.
"#;

/// What is wrong with a designator. Where none is written the mode's own is read, which every mode has.
pub(super) fn finding(sent: &Transmission<'_>, refusal: Refusal) -> Finding {
    let at = sent.signal.emission.as_ref().map_or(sent.signal.mode.span, |written| written.span);
    let finding = Finding::new(&RULE, at, refusal.what).label("cannot be read");
    match refusal.help {
        Some(help) => finding.help(help),
        None => finding,
    }
}
