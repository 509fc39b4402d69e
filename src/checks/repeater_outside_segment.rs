//! A repeater may receive and transmit in its segments alone.

use super::Facts;
use crate::ground::{At, Finding, Findings, Frequency, Rule, Stretch};
use crate::reckon::{Transmitter, transmissions};

/// A repeater may receive and transmit in its segments alone.
pub(super) const RULE: Rule =
    Rule::error("repeater-outside-segment", "the rows of the profile; us: 47 CFR 97.205(b)", DOC);

const DOC: &str = r#"
Finds: a repeater whose input or output, with its width, is not wholly inside a segment open to repeaters; likewise a channel that a `[[link]]` sends on, which repeats what it hears.
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

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sent in transmissions(facts.plan).iter().filter(|sent| sent.from.is_amateur()) {
        let (words, at, label) = match (sent.from, sent.end) {
            (Transmitter::Repeater(_), Some(end)) => (sent.words(), sent.frequency, format!("this {}", end.word())),
            (Transmitter::Link(link, joins, channel), _) => {
                let words = format!("{}, on which link {} sends,", channel.name.value, link.name.value);
                (words, joins.with(sent.frequency.value), "a link repeats here".to_owned())
            }
            _ => continue,
        };
        let Ok(occupied) = facts.occupies(sent) else { continue };
        if let Some(finding) = misplaced(facts, &words, at, &occupied) {
            found.push(finding.label(label).on_all(sent.from.subject()));
        }
    }
}

/// That something occupies what no repeater may. Outside every band is a finding of its own.
fn misplaced(facts: Facts<'_>, what: &str, at: At<Frequency>, occupied: &Stretch) -> Option<Finding> {
    if facts.profile.band_of(occupied).is_none() || facts.profile.repeater_may_stand(occupied) {
        return None;
    }
    let finding = Finding::new(&RULE, at.span, format!("{what} occupies {occupied}, where no repeater may stand"));
    let near = facts.profile.repeater_segments.iter().min_by_key(|segment| segment.edges.distance(at.value));
    Some(match near {
        Some(near) => finding.note(format!("the nearest segment runs from {} ({})", near.edges, near.cite.source)),
        None => finding,
    })
}
