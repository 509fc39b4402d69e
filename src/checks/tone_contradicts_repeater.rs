//! A channel must not give its repeater another tone.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A channel must not give its repeater another tone.
pub(super) const RULE: Rule = Rule::of_format("tone-contradicts-repeater", DOC);

const DOC: &str = r#"
Finds: a channel through a repeater with a `tx-tone` that is none of the repeater's `tone-in`.
Costs: the card says one tone and the repeater waits for another: it never opens.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
tx-tone = "100.0 Hz"        # tone-contradicts-repeater
```
Right: leave `tx-tone` out; the repeater's `tone-in` is printed. Mend that one if it is wrong.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    // A tone that is never sent is a finding of its own.
    for channel in facts.plan.channels.iter().filter(|channel| channel.send.is_some()) {
        let repeater = channel.repeater().and_then(|id| facts.plan.repeaters.get(id));
        let Some((repeater, written)) = repeater.zip(channel.written_tx_tone) else { continue };
        let opens = &repeater.tones.tone_in;
        if opens.all().any(|tone| tone.value == written.value) {
            continue;
        }
        let what = format!(
            "channel {} sends tone {}, but repeater {} opens with {}",
            channel.name.value,
            written.value,
            repeater.name.value,
            opens.words()
        );
        found.push(
            Finding::new(&RULE, written.span, what)
                .label("does not open it")
                .and(opens.span, "opens with this")
                .help("remove `tx-tone`; the repeater's own is printed")
                .on(subject(channel)),
        );
    }
}
