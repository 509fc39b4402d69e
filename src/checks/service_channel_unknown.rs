//! In a service with fixed channels one sends on these alone.

use super::Facts;
use crate::ground::{Finding, Findings, Frequency, Rule};
use crate::plan::{Channel, subject};
use crate::reckon::{has_mode, service_row};
use crate::tables::{Service, ServiceChannel};

/// In a service with fixed channels one sends on these alone.
pub(super) const RULE: Rule =
    Rule::error("service-channel-unknown", "the rows of the profile; us: 47 CFR Part 95", DOC);

const DOC: &str = r#"
Finds: a channel that sends in a service with fixed channels (FRS, GMRS, MURS, CB, marine, interoperability) on a frequency or a pair that is none of that service's channels, or in a mode that is not for it.
Costs: an unlawful signal, on somebody else's frequency.

Wrong:
```toml
[[channel]]
id = "block"
row = 2
name = "FRS 1"
spoken = "Family One"
service = "frs"
simplex = "462.5600 MHz"    # service-channel-unknown
width = "narrow"
```
Right: write the channel's frequency: `simplex = "462.5625 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    each(facts, (&RULE, false), found);
}

/// Finds them under a rule: those that rest on rows from memory, or all others.
pub(super) fn each(facts: Facts<'_>, (rule, is_from_memory): (&'static Rule, bool), found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some(send) = channel.send else { continue };
        if service_row(facts.profile, channel).is_some() {
            continue;
        }
        let Some((near, what)) = fault(facts, channel, send.value) else { continue };
        if near.cite.is_from_memory("frequency") != is_from_memory {
            continue;
        }
        let finding = Finding::new(rule, send.span, what).label("no channel of this service");
        let finding = finding.note(near.cite.said()).help(type_this(near)).on(subject(channel));
        let is_simplex = channel.has_one_frequency() && channel.side().is_none();
        let is_whole = !near.is_pair_only && keeps_to(facts, near, channel) && is_simplex && has_mode(near, channel);
        found.push(if is_whole { finding.fix(send.span, format!("\"{}\"", near.frequency)) } else { finding });
    }
}

/// What is wrong with where a channel sends, and the nearest row; none where the profile does not list its service's channels there.
fn fault<'a>(facts: Facts<'a>, channel: &'a Channel, send: Frequency) -> Option<(&'a ServiceChannel, String)> {
    let (service, hear, name) = (&channel.service.value, channel.hear.value, &channel.name.value);
    let rows = || facts.profile.channels_of(service).filter(|row| !row.is_listen_only);
    // One whose limits the channel keeps, so that what is proposed is no second fault.
    let near = rows().min_by_key(|row| (!keeps_to(facts, row, channel), (row.frequency - send).size()))?;
    let closed = facts.profile.channels_of(service).find(|row| row.is_listen_only && row.frequency == send);
    if let Some(closed) = closed {
        return Some((closed, format!("channel {name} sends on {send}, where {} is listened to alone", closed.name)));
    }
    if rows().any(|row| row.is_used_by(hear, send)) {
        let mode = channel.signal.mode.value;
        return Some((near, format!("channel {name} sends {mode} on {send}, which {service} does not")));
    }
    let nearest = rows().min_by_key(|row| (row.frequency - send).size()).filter(|row| is_in_whole(service, send, row));
    nearest?;
    Some((
        near,
        match hear == send {
            true => format!("channel {name} sends on {send}, which is no channel of {service}"),
            false => format!("channel {name} hears {hear} and sends {send}, which is no pair of {service}"),
        },
    ))
}

/// Whether a channel keeps the limits of a row.
fn keeps_to(facts: Facts<'_>, row: &ServiceChannel, channel: &Channel) -> bool {
    let width = facts.emission_of(&channel.signal).ok().map(|emission| emission.width());
    let has_power = Option::zip(channel.power, row.most).is_none_or(|(power, limit)| power.value <= limit.power);
    has_power && Option::zip(width, row.width).is_none_or(|(width, most)| width <= most)
}

/// Whether the profile lists all channels of a service where a frequency lies, of which this is the nearest: all that a frequency less
/// than a channel beside it could be is a mistyped one.
pub(super) fn is_in_whole(service: &Service, at: Frequency, nearest: &ServiceChannel) -> bool {
    let whole = &service.whole;
    let is_beside = (nearest.frequency - at).size() < CHANNEL;
    whole.is_empty() || is_beside || whole.iter().any(|stretch| stretch.value.has(at))
}

/// The widest step between channels of a service of which the profile lists a part, in hertz: 25 kHz in aviation (47 CFR 87.137).
const CHANNEL: u64 = 25_000;

/// What to write to use a channel of a service.
fn type_this(row: &ServiceChannel) -> String {
    let (frequency, modes) = (row.frequency, row.modes.join(", "));
    let with = if modes.is_empty() { String::new() } else { format!(", {modes}") };
    match row.input {
        _ if row.is_listen_only => "write `tx = \"none\"`".to_owned(),
        Some(input) if row.is_pair_only => {
            format!("write `rx = \"{frequency}\"` and `tx = \"{input}\"`, {}{with}", row.name)
        }
        _ => format!("write `simplex = \"{frequency}\"`, {}{with}", row.name),
    }
}
