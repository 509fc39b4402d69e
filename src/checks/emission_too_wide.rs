//! A signal must be no wider than the law allows where it is sent.

use super::Facts;
use super::amateur::senders;
use crate::ground::Width;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{Emission, Transmission};
use crate::tables::{Cite, EmissionRow, EmissionType};

/// A signal must be no wider than the law allows where it is sent.
pub(super) const RULE: Rule = Rule::error("emission-too-wide", "the rows of the profile; us: 47 CFR 97.307(f)", DOC);

const DOC: &str = r#"
Finds: a signal wider than the limit of its stretch: data and RTTY below 450 MHz, everything on 60 m, angle modulation with an index above 1 below 29 MHz (taken from the width with audio of 3 kHz).
Costs: an unlawful signal, in a part of the band where others are packed close.

Wrong:
```toml
[[channel]]
id = "hf"
row = 2
name = "HF DATA"
spoken = "Data"
dial = "7090.0 kHz"         # emission-too-wide
side = "USB"
mode = "data"
emission = "3K50J2D"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose a narrower mode, and write its designator: `emission = "2K70J2D"`.
"#;

/// Widest audio that the index is reckoned with, in hertz: speech through a telephone channel (common practice, no source).
const AUDIO: u64 = 3000;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(emission) = facts.emission_of(sender.signal) else { continue };
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        // Outside every band is a finding of its own.
        if facts.profile.band_of(&occupied).is_none() {
            continue;
        }
        let rows = facts.profile.emissions.iter().filter(|row| row.edges.overlaps(&occupied));
        let limits = rows.filter_map(|row| Some((limit(row, &emission)?, &row.cite)));
        let Some((most, cite)) = limits.min_by_key(|(most, _)| *most) else { continue };
        if emission.width() > most {
            let what = format!(
                "{} sends {} wide on {}, where {most} is the most",
                sender.words(),
                emission.width(),
                sender.frequency.value
            );
            found.push(finding(&sender, what, cite));
        }
    }
}

fn finding(sender: &Transmission<'_>, what: String, cite: &Cite) -> Finding {
    let written = sender.signal.emission.as_ref().map_or(sender.signal.width.span, |emission| emission.span);
    let finding = Finding::new(&RULE, sender.frequency.span, what).label("too wide here");
    let finding = if written == sender.frequency.span { finding } else { finding.and(written, "says how wide") };
    finding
        .note(cite.source.clone())
        .help("choose a narrower mode, or another part of the band")
        .on_all(sender.from.subject())
}

/// The limit of a row for an emission that it is about; none where it sets none.
fn limit(row: &EmissionRow, emission: &Emission) -> Option<Width> {
    let kind = emission.emission_type();
    if !row.types.contains(&kind) {
        return None;
    }
    let is_data = matches!(kind, EmissionType::Data | EmissionType::Rtty);
    let index = (row.has_angle_index_1 && emission.is_angle_modulated()).then(|| Width::hertz(4 * AUDIO));
    [row.width, row.data_width.filter(|_| is_data), index].into_iter().flatten().min()
}
