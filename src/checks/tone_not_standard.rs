//! A tone must be one that radios offer.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule, Subject, Tone};
use crate::plan::subject;

/// A tone must be one that radios offer.
pub(super) const RULE: Rule = Rule {
    waivable: true,
    ..Rule::error("tone-not-standard", "src/tables/tones.toml: CTCSS and DCS sets with their sources", DOC)
};

const DOC: &str = r#"
Finds: a CTCSS tone or DCS code outside the standard set.
Costs: no radio offers it in its list, so the operator takes a neighbour and the repeater stays shut.

Wrong:
```toml
[[channel]]
id = "sim"
row = 2
name = "SIM 1"
spoken = "Simplex One"
simplex = "146.550 MHz"
tx-tone = "103.4 Hz"        # tone-not-standard
verified = { on = 2026-10-01, by = "qra" }
```
Right: write the nearest standard tone, `tx-tone = "103.5 Hz"`; accept it where a repeater really uses another one.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for repeater in facts.plan.repeaters.iter() {
        for tone in repeater.tones.tone_in.all().chain([repeater.tones.tone_out]) {
            look(facts, tone, subject(repeater), found);
        }
    }
    for channel in facts.plan.channels.iter() {
        for tone in channel.written_tx_tone.into_iter().chain([channel.hear_tone]) {
            look(facts, tone, subject(channel), found);
        }
    }
}

fn look(facts: Facts<'_>, tone: At<Tone>, on: Subject, found: &mut Findings) {
    let is_listed = matches!(tone.value, Tone::Ctcss(_) | Tone::Dcs { .. });
    if !is_listed || facts.tables.tones.is_standard(tone.value) {
        return;
    }
    let (ctcss, dcs) = facts.tables.tones.counts();
    let what = format!("{} is none of the standard tones and codes", tone.value);
    let finding = Finding::new(&RULE, tone.span, what)
        .label("is in no radio's list")
        .note(format!(
            "the set has {ctcss} CTCSS tones and {dcs} DCS codes ({})",
            facts.tables.tones.cite(tone.value).source
        ))
        .on(on);
    found.push(match facts.tables.tones.nearest(tone.value) {
        Some(near) => finding.help(format!("write \"{near}\", the nearest")).fix(tone.span, format!("\"{near}\"")),
        None => finding,
    });
}
