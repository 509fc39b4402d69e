//! A net on a frequency that everybody takes in an emergency has another one behind it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A net on a frequency that everybody takes in an emergency has another one behind it.
pub(super) const RULE: Rule = Rule::warning(
    "emergency-frequency-alone",
    "the rows of the profile: centers of activity of the societies' band plans; common practice, no source, that others will be there",
    DOC,
);

const DOC: &str = r#"
Finds: a net with one channel alone, on a center of activity for emergency traffic (14300 kHz and the like).
Costs: in an emergency others are there before you, and the plan does not say where to go.

Wrong:
```toml
[[channel]]
id = "far"
row = 2
name = "HF 20"
spoken = "Twenty"
dial = "14300.0 kHz"
side = "USB"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "region"
name = "Region net"
spoken = "Region Net"
primary = "far"             # emergency-frequency-alone
```
Right: add `alternate = ...`, a channel on another frequency.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        let [leg] = &*net.legs else { continue };
        let Some(channel) = facts.plan.channels.get(&leg.channel) else { continue };
        let is_here = |row: &&crate::tables::Calling| row.frequency == channel.hear.value;
        let Some(row) = facts.profile.emergencies.iter().find(is_here) else { continue };
        let what = format!(
            "{} has only {}, on {}, where everybody goes in an emergency",
            net.name.value, channel.name.value, channel.hear.value
        );
        found.push(
            Finding::new(&RULE, leg.channel.span, what)
                .label("its only channel")
                .and(channel.hear.span, "shared by all")
                .note(format!("{} ({})", row.cite.source, row.cite.confidence))
                .help("add `alternate = ...`, a channel on another frequency")
                .on(subject(net))
                .on(subject(channel)),
        );
    }
}
