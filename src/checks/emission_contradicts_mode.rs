//! A designator is of the mode that is written beside it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Signal, subject};
use crate::reckon::Emission;

/// A designator is of the mode that is written beside it.
pub(super) const RULE: Rule = Rule::error(
    "emission-contradicts-mode",
    "ITU Radio Regulations, Appendix 1; 47 CFR 2.201: what the symbols of a designator mean",
    DOC,
);

const DOC: &str = r#"
Finds: a mode and an emission designator that are not of one kind: FM with J3E, CW with F3E; and a designator that fits several modes, or none, while no mode is written.
Costs: the card prints one and the law was asked about the other.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
mode = "FM"
emission = "2K80J3E"        # emission-contradicts-mode
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `emission = "16K0F3E"`, or leave one of the two out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let own = facts.plan.channels.iter().filter(|channel| channel.has_own_frequencies());
    let signals = own
        .map(|channel| (&channel.signal, subject(channel)))
        .chain(facts.plan.repeaters.iter().map(|repeater| (&repeater.signal, subject(repeater))))
        .chain(facts.plan.gateways.iter().map(|gateway| (&gateway.signal, subject(gateway))));
    for (signal, on) in signals {
        let Signal { mode, emission: Some(written), .. } = signal else { continue };
        // One that cannot be read is a finding of its own.
        let Ok(emission) = Emission::parse(written.as_str()) else { continue };
        let word = mode.value.word();
        if facts.tables.modes.fits(word, emission.symbols()) {
            continue;
        }
        let fitting = facts.tables.modes.fitting(emission.symbols());
        let what = format!("{} is no emission of {word}", written.value);
        let finding = Finding::new(&RULE, written.span, what).label("of another mode").on(on);
        let finding = if mode.span.end > mode.span.start { finding.and(mode.span, "the mode") } else { finding };
        found.push(match fitting.as_slice() {
            [] => finding.help("leave it out: the mode has one of its own"),
            some => finding.help(format!("write `mode = \"{}\"`, or leave the designator out", some.join("` or `"))),
        });
    }
}
