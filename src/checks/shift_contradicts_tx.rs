//! What a channel sends on must be the same however it is written.

use super::Facts;
use crate::ground::{At, Finding, Findings, Frequency, Rule, Shift, Span};
use crate::plan::{Channel, Transmit, subject};

/// What a channel sends on must be the same however it is written.
pub(super) const RULE: Rule = Rule::of_format("shift-contradicts-tx", DOC);

const DOC: &str = r#"
Finds: a channel whose `tx` or `shift` disagree with each other or with its repeater.
Costs: one of the two is wrong, and the card would print it.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
tx = "147.540 MHz"          # shift-contradicts-tx
```
Right: leave `tx` and `shift` out; the repeater's input is printed. Mend that one if it is wrong.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some((hear, send, decided)) = decided(facts, channel) else { continue };
        if let Some(tx) = &channel.written_tx {
            let is_same = matches!(tx.value, Transmit::On(written) if written == send);
            if !is_same {
                let written = match tx.value {
                    Transmit::On(frequency) => frequency.to_string(),
                    Transmit::Off => "off".to_owned(),
                };
                found.push(finding(channel, tx.span, &format!("tx is {written}"), send, decided));
            }
        }
        if let Some(shift) = channel.written_shift
            && hear.moved(shift.value) != Some(send)
        {
            found.push(finding(channel, shift.span, &shift_words(hear, shift), send, decided));
        }
    }
}

/// What is heard and sent by the record that decides it, and where that stands.
fn decided(facts: Facts<'_>, channel: &Channel) -> Option<(Frequency, Frequency, Span)> {
    if let Some(id) = channel.repeater() {
        let repeater = facts.plan.repeaters.get(id)?;
        return Some((repeater.output.value, repeater.input.value, repeater.input.span));
    }
    let is_split = channel.is_direct() && !channel.has_one_frequency();
    let send = channel.send.filter(|_| is_split)?;
    Some((channel.hear.value, send.value, send.span))
}

fn shift_words(hear: Frequency, shift: At<Shift>) -> String {
    match hear.moved(shift.value) {
        Some(frequency) => format!("shift {} leads to {frequency}", shift.value),
        None => format!("shift {} leads to no frequency", shift.value),
    }
}

fn finding(channel: &Channel, at: Span, written: &str, send: Frequency, decided: Span) -> Finding {
    let what = format!("channel {} sends on {send}, but its {written}", channel.name.value);
    Finding::new(&RULE, at, what)
        .label("says otherwise")
        .and(decided, format!("decides {send}"))
        .help("remove it here; the other record decides")
        .on(subject(channel))
}
