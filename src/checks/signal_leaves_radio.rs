//! A signal lies wholly within radio; what would not cannot be reckoned, and passes no check.

use crate::ground::{Decimal, Finding, Rule, Span};
use crate::plan::WidthWord;
use crate::reckon::Transmission;
use crate::tables::Profile;

/// A signal lies wholly within radio; what would not cannot be reckoned, and passes no check.
pub(super) const RULE: Rule = Rule {
    since: "0.2.0",
    ..Rule::error(
        "signal-leaves-radio",
        "arithmetic; ITU Radio Regulations, No. 1.5, for what radio is (from memory)",
        DOC,
    )
};

const DOC: &str = r#"
Finds: a channel, repeater, gateway or neighbour whose signal, with its width, its audio and the tolerance of radios, would reach below 1 Hz or above 300 GHz. Nothing can be reckoned of it, so no other rule speaks of it.
Costs: a frequency in the wrong unit, on paper.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146 Hz"          # signal-leaves-radio
verified = { on = 2026-10-01, by = "qra" }
```
Right: write the unit that was meant, `simplex = "146.550 MHz"`.
"#;

/// What is wrong with a signal that would run from `low` to `high`, in hertz.
pub(super) fn finding(profile: &Profile, sent: &Transmission<'_>, low: i64, high: i64) -> Finding {
    let (words, at) = (sent.words(), sent.frequency);
    let what =
        format!("{words} on {} would reach from {} to {}, outside 1 Hz to 300 GHz", at.value, hertz(low), hertz(high));
    let is_sound = profile.bands.iter().any(|band| band.edges.has(at.value))
        || profile.service_channels.iter().any(|row| row.frequency == at.value);
    let written = written(sent);
    let finding = match written.as_ref().filter(|_| is_sound) {
        Some((span, label, help)) => {
            Finding::new(&RULE, *span, what).label(*label).and(at.span, "on this frequency").help(*help)
        }
        None => {
            let finding = Finding::new(&RULE, at.span, what).label("reaches out of all radio");
            let finding = finding.help("write it in the unit that is meant, MHz or kHz");
            written.iter().fold(finding, |finding, (span, label, _)| finding.and(*span, *label))
        }
    };
    let finding = match sent.decided_by().filter(|output| output.span != at.span) {
        Some(output) => finding.and(output.span, "shifted from this output"),
        None => finding,
    };
    finding.note("nothing can be reckoned of such a signal, so no other rule has looked at it")
}

/// What the plan writes of how far a signal reaches from its dial: where, what it does, what to type instead.
fn written(sent: &Transmission<'_>) -> Option<(Span, &'static str, &'static str)> {
    let signal = sent.signal;
    if let Some(audio) = signal.audio {
        return Some((audio.span, "so far from the dial", "write the audio in hertz, as `audio = \"1500 Hz\"`"));
    }
    if let Some(emission) = &signal.emission {
        return Some((emission.span, "so wide", "leave `emission` out, or write the designator with its true width"));
    }
    let is_written = matches!(signal.width.value, WidthWord::Exact(_));
    is_written.then_some((signal.width.span, "so wide", "leave `width` out, or write how wide the signal is"))
}

/// An edge that may lie below zero: `-7.853 kHz`.
fn hertz(edge: i64) -> String {
    if edge.unsigned_abs() < 3_000_000 {
        return format!("{} kHz", Decimal::print(edge, 1000, 1));
    }
    format!("{} MHz", Decimal::print(edge, 1_000_000, 3))
}
