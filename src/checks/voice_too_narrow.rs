//! A voice is not narrower than a voice can be.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{Emission, own_transmissions};
use crate::tables::EmissionType;

/// A voice is not narrower than a voice can be.
pub(super) const RULE: Rule = Rule::error(
    "voice-too-narrow",
    "47 CFR 2.202 (necessary bandwidth): what a voice occupies follows from its mode",
    DOC,
);

const DOC: &str = r#"
Finds: a voice whose `width` or `emission` is less than half of what its mode has in the narrow form: less than speech can be.
Costs: every edge of a band is reckoned with it, and the true signal lies outside.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.560 MHz"
width = "100 Hz"            # voice-too-narrow
verified = { on = 2026-10-01, by = "qra" }
```
Right: leave `width` out, or write what the radio sends, `width = "narrow"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in own_transmissions(facts.plan) {
        let Ok(emission) = facts.emission_of(sender.signal) else { continue };
        let mode = sender.signal.mode;
        let Some(form) = facts.tables.modes.form(mode.value.word(), true) else { continue };
        let Ok(usual) = Emission::parse(&form.emission) else { continue };
        let is_narrow = emission.width().as_hertz() * 2 < usual.width().as_hertz();
        // One that is not of the mode at all is a finding of its own.
        let is_voice = emission.emission_type() == EmissionType::Phone
            && facts.tables.modes.fits(mode.value.word(), emission.symbols());
        if !is_voice || !is_narrow {
            continue;
        }
        let what = format!(
            "{} sends {} {} wide, and the narrow form of that mode has {}",
            sender.words(),
            mode.value,
            emission.width(),
            usual.width()
        );
        let at = sender.signal.emission.as_ref().map_or(sender.signal.width.span, |written| written.span);
        let help = match &sender.signal.emission {
            Some(_) => format!("write what the radio sends, `emission = \"{}\"`, or leave it out", form.emission),
            None => "write `width = \"narrow\"`, or leave it out".to_owned(),
        };
        found.push(
            Finding::new(&RULE, at, what).label("no voice is so narrow").help(help).on_all(sender.from.subject()),
        );
    }
}
