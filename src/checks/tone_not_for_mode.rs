//! A mode must be able to carry the code that opens it.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule, Subject, Tone};
use crate::plan::{Mode, subject};

/// A mode must be able to carry the code that opens it.
pub(super) const RULE: Rule = Rule::error(
    "tone-not-for-mode",
    "TIA-603, TIA-102, ETSI TS 102 361 and the modes' own specifications (from memory)",
    DOC,
);

const DOC: &str = r#"
Finds: a tone or access code of a kind that the mode does not have: CTCSS on a digital mode, a colour code on FM, anything on SSB.
Costs: no radio can be set so; the operator guesses.

Wrong:
```toml
[[channel]]
id = "sim"
row = 2
name = "SIM 1"
spoken = "Simplex One"
simplex = "146.550 MHz"
tx-tone = "CC 1"            # tone-not-for-mode
verified = { on = 2026-10-01, by = "qra" }
```
Right: write a CTCSS tone or a DCS code for FM, or the mode that the code belongs to: `mode = "DMR"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for repeater in facts.plan.repeaters.iter() {
        for tone in repeater.tones.tone_in.all().chain([repeater.tones.tone_out]) {
            look(tone, repeater.signal.mode, &subject(repeater), found);
        }
        look_for_burst(repeater.tones.tone_out, &subject(repeater), found);
    }
    for channel in facts.plan.channels.iter() {
        // What a channel has from its repeater is looked at there.
        for tone in channel.written_tx_tone.into_iter().chain([channel.hear_tone]) {
            look(tone, channel.signal.mode, &subject(channel), found);
        }
        look_for_burst(channel.hear_tone, &subject(channel), found);
    }
}

fn look(tone: At<Tone>, mode: At<Mode>, on: &Subject, found: &mut Findings) {
    let Some(kind) = kind(tone.value) else { return };
    if carries(mode.value, tone.value) {
        return;
    }
    let what = format!("{} is {kind}, which {} does not carry", tone.value, mode.value);
    let finding = Finding::new(&RULE, tone.span, what).label("of another mode").on(on.clone());
    let finding = if mode.span == tone.span { finding } else { finding.and(mode.span, "in this mode") };
    found.push(finding.help("write a code of this mode, or the mode that the code belongs to"));
}

/// A burst opens a repeater once; no squelch waits for one.
fn look_for_burst(tone: At<Tone>, on: &Subject, found: &mut Findings) {
    if let Tone::Burst(_) = tone.value {
        let what = format!("{} opens a repeater; no receiver waits for it", tone.value);
        let finding = Finding::new(&RULE, tone.span, what).label("stands where a tone is heard").on(on.clone());
        found.push(finding.help("write it as `tone-in`, and here `\"off\"`"));
    }
}

/// What kind of code it is; none for the words that stand for none.
const fn kind(tone: Tone) -> Option<&'static str> {
    match tone {
        Tone::Off | Tone::Carrier | Tone::Unknown => None,
        Tone::Ctcss(_) => Some("a CTCSS tone"),
        Tone::Dcs { .. } => Some("a DCS code"),
        Tone::Nac(_) => Some("a network access code"),
        Tone::ColourCode(_) => Some("a color code"),
        Tone::Ran(_) => Some("a radio access number"),
        Tone::Can(_) => Some("a channel access number"),
        Tone::Burst(_) => Some("a tone burst"),
    }
}

const fn carries(mode: Mode, tone: Tone) -> bool {
    match tone {
        Tone::Ctcss(_) | Tone::Dcs { .. } | Tone::Burst(_) => matches!(mode, Mode::Fm | Mode::Data),
        Tone::Nac(_) => matches!(mode, Mode::P25),
        Tone::ColourCode(_) => matches!(mode, Mode::Dmr),
        Tone::Ran(_) => matches!(mode, Mode::Nxdn),
        Tone::Can(_) => matches!(mode, Mode::M17),
        Tone::Off | Tone::Carrier | Tone::Unknown => true,
    }
}
