//! A tone to send is of no use where nothing is sent.

use super::Facts;
use crate::ground::{Finding, Findings, OWN_FORMAT, Rule, Tone};
use crate::plan::subject;

/// A tone to send is of no use where nothing is sent.
pub(super) const RULE: Rule = Rule::warning("tone-never-sent", OWN_FORMAT, DOC);

const DOC: &str = r#"
Finds: a channel to listen to alone that has a tone to send.
Costs: either the tone is not on the card although somebody wanted it there, or the channel was meant to be sent on and the card says that it is not.

Wrong:
```toml
[[channel]]
id = "watch"
row = 2
name = "WATCH 1"
spoken = "Watch One"
rx = "146.820 MHz"
tx = "none"
tx-tone = "123.0 Hz"        # tone-never-sent
verified = { on = 2026-10-01, by = "qra" }
```
Right: leave `tx-tone` out; a tone to listen for is `rx-tone`. Where one sends there, write the frequency in `tx`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.send.is_none()) {
        let Some(tone) = channel.written_tx_tone.filter(|tone| tone.value != Tone::Off) else { continue };
        let what = format!("channel {} has the tone {} to send, and sends nothing", channel.name.value, tone.value);
        found.push(
            Finding::new(&RULE, tone.span, what)
                .label("is never sent")
                .and(channel.hear.span, "heard alone")
                .help("leave `tx-tone` out, or write what is sent in `tx`")
                .on(subject(channel)),
        );
    }
}
