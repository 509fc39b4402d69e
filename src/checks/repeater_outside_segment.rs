//! A repeater may receive and transmit in its segments alone.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Service, subject};
use crate::reckon::occupied_by;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// A repeater may receive and transmit in its segments alone.
pub(super) const RULE: Rule = Rule {
    name: "repeater-outside-segment",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR 97.205(b)",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a repeater whose input or output, with its width, is not wholly inside a segment open to repeaters.
Costs: an unlawful repeater, and a card that sends a county to it.

Wrong:
```toml
[[repeater]]
id = "low-gap"
output = "145.500 MHz"      # repeater-outside-segment
input = "144.900 MHz"
tone-in = "103.5 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }
```
Right: use an output of 145.490 MHz or below; 16 kHz around 145.500 MHz reach past the segment's end.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for repeater in facts.plan.repeaters.iter().filter(|repeater| repeater.service.value == Service::Amateur) {
        for (which, frequency) in [("output", repeater.output), ("input", repeater.input)] {
            let Some(occupied) = occupied_by(frequency.value, &repeater.signal, None, &facts.tables.modes) else {
                continue;
            };
            // Outside every band is a finding of its own.
            let is_in_band = facts.profile.band_of(&occupied).is_some();
            if !is_in_band || facts.profile.repeater_may_stand(&occupied) {
                continue;
            }
            let near =
                facts.profile.repeater_segments.iter().min_by_key(|segment| segment.edges.distance(frequency.value));
            let what = format!(
                "the {which} of repeater {} occupies {occupied}, where no repeater may stand",
                repeater.name.value
            );
            let finding =
                Finding::new(&RULE, frequency.span, what).label(format!("this {which}")).on(subject(repeater));
            found.push(match near {
                Some(segment) => {
                    finding.note(format!("the nearest segment runs from {} ({})", segment.edges, segment.cite.source))
                }
                None => finding,
            });
        }
    }
}
