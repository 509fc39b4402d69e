//! A repeater usually has the shift of the band plan.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::Transmission;

/// A repeater usually has the shift of the band plan.
pub(super) const RULE: Rule = Rule::warning("unusual-shift", "the band plan in the profile", DOC);

const DOC: &str = r#"
Finds: a repeater whose input is not at the band plan's usual shift from its output.
Costs: mostly a slip of sign; where it is real, every radio that sets the shift by itself will be wrong.

Wrong:
```toml
[[repeater]]
id = "mill-hill"
call = "WZ7QUM"
output = "146.760 MHz"
input = "+600 kHz"          # unusual-shift
tone-in = "88.5 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `input = "-600 kHz"`, or accept it where the coordinator assigned the pair so.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for repeater in facts.plan.repeaters.iter().filter(|repeater| repeater.service.is_amateur()) {
        let Some((custom, usual)) = facts.profile.usual_shift(repeater.output.value) else { continue };
        // An input that cannot be reckoned is an error of its own.
        let (Some(input), Some(sent)) = (*repeater.input, Transmission::input_of(facts.plan, repeater)) else {
            continue;
        };
        let own = input.shift.value;
        if own == usual || custom.other_shifts.contains(&own) || facts.occupies(&sent).is_err() {
            continue;
        }
        let what = format!(
            "repeater {} has its input {} from {}, where {usual} is usual",
            repeater.name.value, input.shift.value, repeater.output.value
        );
        found.push(
            Finding::new(&RULE, repeater.input.span, what)
                .label("unusual here")
                .and(repeater.output.span, "with this output")
                .note(custom.cite.source.clone())
                .help(format!("write \"{usual}\", or accept it where the pair was assigned so"))
                .fix(repeater.input.span, format!("\"{usual}\""))
                .on(subject(repeater)),
        );
    }
}
