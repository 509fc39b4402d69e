//! A station under automatic control stays where the law allows it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Stretch, Width};
use crate::plan::{Control, subject};
use crate::reckon::Transmission;

/// A station under automatic control stays where the law allows it.
pub(super) const RULE: Rule =
    Rule::error("automatic-outside-segment", "the rows of the profile; us: 47 CFR 97.221", DOC);

const DOC: &str = r#"
Finds: a gateway with `control = "automatic"` on HF outside the segments for automatically controlled data stations, and wider than 500 Hz.
Costs: an unattended transmitter on top of somebody's contact, without the right to be there.

Wrong:
```toml
[[gateway]]
id = "hf-box"
call = "WZ7QUM-1"
frequency = "7.090 MHz"     # automatic-outside-segment
emission = "2K70J2D"
control = "automatic"
verified = { on = 2026-10-01, by = "qra" }
```
Right: move it into a segment, for instance 7.100 to 7.105 MHz, or have somebody in attendance: `control = "attended"`.
"#;

/// Elsewhere a narrow station may answer when asked (97.221(c)); whether it only answers is for its owner to see to.
const ANSWERING: Width = Width::hertz(500);

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let segments = &facts.profile.automatic_segments;
    if segments.is_empty() {
        return;
    }
    for gateway in facts.plan.gateways.iter().filter(|gateway| gateway.service.is_amateur()) {
        let Ok(emission) = facts.emission_of(&gateway.signal) else { continue };
        let is_automatic = gateway.control.value == Control::Automatic;
        if !is_automatic || emission.width() <= ANSWERING {
            continue;
        }
        for sent in Transmission::of_gateway(facts.plan, gateway) {
            let Ok(stretch) = facts.occupies(&sent) else { continue };
            let is_within = Stretch::are_covering(segments.iter().map(|segment| segment.edges), &stretch);
            if is_within || facts.profile.band_of(&stretch).is_none() {
                continue;
            }
            let what = format!(
                "gateway {} is under automatic control on {stretch}, outside the segments for that",
                gateway.name.value
            );
            let finding = Finding::new(&RULE, sent.frequency.span, what)
                .label("outside")
                .and(gateway.control.span, "automatic")
                .on(subject(gateway));
            let near = segments.iter().min_by_key(|segment| segment.edges.distance(sent.frequency.value));
            found.push(match near {
                Some(near) => {
                    finding.note(format!("the nearest segment runs from {} ({})", near.edges, near.cite.source))
                }
                None => finding,
            });
        }
    }
}
