//! FM and FM data keep out of what the band plan sets aside for weak signals and satellites.

use super::Facts;
use super::amateur::senders;
use super::trial::mended;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::Mode;
use crate::tables::Custom;

/// FM and FM data keep out of what the band plan sets aside for weak signals and satellites.
pub(super) const RULE: Rule = Rule::warning("band-plan-segment", "the voluntary band plan in the profile", DOC);

const DOC: &str = r#"
Finds: a channel, repeater or gateway on FM in a stretch of the band plan for weak signals, beacons or satellites, and voice in one for packet.
Costs: the team disturbs people who cannot be heard by it, and makes no friends for the night when it asks them to keep clear.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "145.900 MHz"     # band-plan-segment
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose an FM simplex channel, `simplex = "146.550 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut searched = 0;
    for sender in senders(facts) {
        if sender.side.is_some() || matches!(sender.signal.mode.value, Mode::Cw | Mode::Ssb) {
            continue;
        }
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        // The law speaks first, by findings of its own.
        let is_lawful = !sender.is_repeater() || facts.profile.repeater_may_stand(&occupied);
        if facts.profile.band_of(&occupied).is_none() || !is_lawful {
            continue;
        }
        let is_voice = sender.signal.mode.value != Mode::Data;
        let is_set_aside = |custom: &&Custom| {
            (custom.is_without_fm || (custom.is_without_voice && is_voice)) && custom.edges.overlaps(&occupied)
        };
        let Some(custom) = facts.profile.customs.iter().find(is_set_aside) else { continue };
        let what = format!(
            "{} sends {} on {}, which the band plan keeps for {}",
            sender.words(),
            if custom.is_without_fm { "FM" } else { "voice" },
            sender.frequency.value,
            custom.use_
        );
        let finding = Finding::new(&RULE, sender.frequency.span, what)
            .label("set aside")
            .note(format!("{} ({})", custom.edges, custom.cite.source))
            .on_all(sender.from.subject());
        let otherwise = if custom.is_without_fm { "a stretch for FM" } else { "a stretch for voice" };
        found.push(mended(facts, &sender, finding, &mut searched, format!("move it to {otherwise}")));
    }
}
