//! What a channel sends on must be the same however it is written.

use super::Facts;
use crate::ground::{At, Finding, Findings, Frequency, Rule, Shift, Span};
use crate::plan::{Channel, Repeater, Transmit, subject};

/// What a channel sends on must be the same however it is written.
pub(super) const RULE: Rule = Rule::of_format("shift-contradicts-tx", DOC);

const DOC: &str = r#"
Finds: a channel whose `tx` or `shift` disagree with each other or with its repeater, or that says what it sends to one whose input is unknown. `tx = "none"` disagrees with no repeater: one may listen to it alone.
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
        if let Some(repeater) = channel.repeater().and_then(|id| facts.plan.repeaters.get(id))
            && repeater.input.is_none()
        {
            found.extend(never_sent(channel, repeater));
            continue;
        }
        let Some((hear, send, decided)) = decided(facts, channel) else { continue };
        // To listen to a repeater alone contradicts nothing.
        if let Some(tx) = &channel.written_tx
            && let Transmit::On(written) = tx.value
            && written != send
        {
            found.push(finding(channel, tx.span, &format!("tx is {written}"), send, decided));
        }
        if let Some(shift) = channel.written_shift
            && hear.moved(shift.value) != Some(send)
        {
            found.push(finding(channel, shift.span, &shift_words(hear, shift), send, decided));
        }
    }
}

/// What a channel says it sends to a repeater whose input nobody knows: it is listened to alone.
fn never_sent(channel: &Channel, repeater: &Repeater) -> Option<Finding> {
    let tx = channel.written_tx.and_then(|tx| match tx.value {
        Transmit::On(frequency) => Some((tx.span, format!("tx is {frequency}"))),
        Transmit::Off => None,
    });
    let shift = channel.written_shift.map(|shift| (shift.span, format!("shift is {}", shift.value)));
    let (span, written) = tx.or(shift)?;
    let what = format!(
        "channel {} sends nothing, since the input of repeater {} is unknown, but its {written}",
        channel.name.value, repeater.name.value
    );
    let finding = Finding::new(&RULE, span, what).label("says otherwise");
    let finding = finding.and(repeater.input.span, "nobody has found out");
    Some(finding.help("write it as the repeater's `input`, or leave it out here").on(subject(channel)))
}

/// What is heard and sent by the record that decides it, and where that stands.
fn decided(facts: Facts<'_>, channel: &Channel) -> Option<(Frequency, Frequency, Span)> {
    if let Some(id) = channel.repeater() {
        let repeater = facts.plan.repeaters.get(id)?;
        return Some((repeater.output.value, (*repeater.input)?.value, repeater.input.span));
    }
    if let Some(id) = channel.direct() {
        let output = facts.plan.repeaters.get(id)?.output;
        return Some((output.value, output.value, output.span));
    }
    let is_split = channel.has_own_frequencies() && !channel.has_one_frequency();
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
