//! A channel must not wait for a tone that its repeater never sends.

use super::Facts;
use crate::ground::Tone;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel must not wait for a tone that its repeater never sends.
pub(super) const RULE: Rule = Rule::error("hear-tone-silences", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a channel through a repeater whose `rx-tone` the repeater does not send.
Costs: the radio stays silent while the net is working: the worst of all failures, since nothing seems wrong.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
rx-tone = "103.5 Hz"        # hear-tone-silences
```
Right: leave `rx-tone` out, or write the repeater's `tone-out`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.hear_tone.value.is_set()) {
        let Some(repeater) = channel.repeater().and_then(|id| facts.plan.repeaters.get(id)) else { continue };
        let sent = repeater.tones.tone_out;
        if sent.value == channel.hear_tone.value || sent.value == Tone::Unknown {
            continue;
        }
        let sends = if sent.value.is_set() { format!("sends {}", sent.value) } else { "sends no tone".to_owned() };
        let what = format!(
            "channel {} waits for tone {}, but repeater {} {sends}",
            channel.name.value, channel.hear_tone.value, repeater.name.value
        );
        found.push(
            Finding::new(&RULE, channel.hear_tone.span, what)
                .label("keeps the radio silent")
                .and(sent.span, "what the repeater sends")
                .help("write `rx-tone = \"off\"`, so that the radio opens on any signal")
                .fix(channel.hear_tone.span, "\"off\"")
                .on(subject(channel)),
        );
    }
}
