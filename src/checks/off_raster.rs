//! An FM channel lies on a step that radios tune.

use super::Facts;
use super::amateur::senders;
use super::trial::mended;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::Mode;

/// An FM channel lies on a step that radios tune.
pub(super) const RULE: Rule = Rule::warning("off-raster", "the rows of the profile: common practice, no source", DOC);

const DOC: &str = r#"
Finds: an FM channel, repeater or gateway that lies on no step of the band's raster.
Costs: nobody can set it by hand, and a digit was probably mistyped.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5530 MHz"    # off-raster
verified = { on = 2026-10-01, by = "qra" }
```
Right: write a frequency on the raster, `simplex = "146.5525 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        if sender.side.is_some() || matches!(sender.signal.mode.value, Mode::Cw | Mode::Ssb | Mode::Am) {
            continue;
        }
        let at = sender.frequency.value;
        // The law speaks first, by a finding of its own.
        let Ok(reaches) = facts.reaches(&sender) else { continue };
        if facts.profile.band_of(&reaches).is_none() {
            continue;
        }
        let mut rows = facts.profile.rasters.iter().filter(|row| row.edges.has(at)).peekable();
        let Some(finest) = rows.peek().map(|row| (row.step.as_hertz(), &row.cite)) else { continue };
        if rows.any(|row| at.as_hertz() % row.step.as_hertz().max(1) == 0) {
            continue;
        }
        let (step, cite) = finest;
        let what = format!("{} is on {at}, which is no step of {} Hz", sender.words(), step);
        let finding = Finding::new(&RULE, sender.frequency.span, what)
            .label("between two steps")
            .note(format!("{} ({})", cite.source, cite.confidence))
            .on_all(sender.from.subject());
        let otherwise = format!("choose a multiple of {step} Hz that nobody else has");
        found.push(mended(facts, &sender, finding, proposing, otherwise));
    }
}
