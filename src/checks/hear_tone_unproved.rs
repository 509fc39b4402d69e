//! A channel should not wait for a tone that nobody has heard from its repeater.

use super::Facts;
use crate::ground::Tone;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel should not wait for a tone that nobody has heard from its repeater.
pub(super) const RULE: Rule = Rule::warning("hear-tone-unproved", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a channel with an `rx-tone` through a repeater whose `tone-out` is unknown.
Costs: if the repeater sends none, the radio stays silent while the net is working.

Wrong:
```toml
[[repeater]]
id = "mill-hill"
call = "WZ7QUM"
output = "147.180 MHz"
input = "+600 kHz"
tone-in = "88.5 Hz"
tone-out = "unknown"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "med"
row = 2
name = "MED 1"
spoken = "Medical One"
repeater = "mill-hill"
rx-tone = "88.5 Hz"         # hear-tone-unproved
```
Right: find out what the repeater sends, or leave `rx-tone` out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.hear_tone.value.is_set()) {
        let Some(repeater) = channel.repeater().and_then(|id| facts.plan.repeaters.get(id)) else { continue };
        if repeater.tones.tone_out.value != Tone::Unknown {
            continue;
        }
        let what = format!(
            "channel {} waits for tone {}, and what repeater {} sends is unknown",
            channel.name.value, channel.hear_tone.value, repeater.name.value
        );
        found.push(
            Finding::new(&RULE, channel.hear_tone.span, what)
                .label("may keep the radio silent")
                .and(repeater.tones.tone_out.span, "nobody has found out")
                .help("write `rx-tone = \"off\"`, or find out `tone-out`")
                .fix(channel.hear_tone.span, "\"off\"")
                .on(subject(channel)),
        );
    }
}
