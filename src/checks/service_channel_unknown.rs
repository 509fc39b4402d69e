//! In a service with fixed channels one sends on these alone.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, subject};
use crate::tables::{Profile, ServiceChannel};

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
    for channel in facts.plan.channels.iter() {
        let Some(send) = channel.send else { continue };
        let service = &channel.service.value;
        if row_of(facts.profile, channel).is_some() {
            continue;
        }
        // One whose limits the channel keeps, so that what is proposed is no second fault.
        let width = facts.emission_of(&channel.signal).ok().map(|emission| emission.width());
        let is_within = |row: &ServiceChannel| {
            let has_power =
                Option::zip(channel.power, row.most).is_none_or(|(power, limit)| power.value <= limit.power);
            let has_width = Option::zip(width, row.width).is_none_or(|(width, most)| width <= most);
            has_power && has_width
        };
        let key = |row: &&ServiceChannel| (!is_within(row), (row.frequency - send.value).size());
        let near = facts.profile.channels_of(service).min_by_key(key);
        let Some(near) = near else { continue };
        let what = if facts.profile.channels_of(service).any(|row| row.is_used_by(channel.hear.value, send.value)) {
            format!(
                "channel {} sends {} on {}, which {service} does not",
                channel.name.value, channel.signal.mode.value, send.value
            )
        } else if channel.hear.value == send.value {
            format!("channel {} sends on {}, which is no channel of {service}", channel.name.value, send.value)
        } else {
            format!(
                "channel {} hears {} and sends {}, which is no pair of {service}",
                channel.name.value, channel.hear.value, send.value
            )
        };
        let finding = Finding::new(&RULE, send.span, what).label("no channel of this service");
        let finding = finding.note(near.cite.source.clone()).help(type_this(near)).on(subject(channel));
        let is_simplex = channel.has_one_frequency() && channel.side().is_none();
        let is_whole = !near.is_pair_only && is_within(near) && is_simplex && has_mode(near, channel);
        found.push(if is_whole { finding.fix(send.span, format!("\"{}\"", near.frequency)) } else { finding });
    }
}

/// What to write to use a channel of a service.
fn type_this(row: &ServiceChannel) -> String {
    let (frequency, modes) = (row.frequency, row.modes.join(", "));
    let with = if modes.is_empty() { String::new() } else { format!(", {modes}") };
    match row.input {
        Some(input) if row.is_pair_only => {
            format!("write `rx = \"{frequency}\"` and `tx = \"{input}\"`, {}{with}", row.name)
        }
        _ => format!("write `simplex = \"{frequency}\"`, {}{with}", row.name),
    }
}

/// The row of its service that a channel uses: its frequencies and its mode.
pub(super) fn row_of<'a>(profile: &'a Profile, channel: &'a Channel) -> Option<&'a ServiceChannel> {
    let send = channel.send?.value;
    let mut rows = profile.channels_of(&channel.service);
    rows.find(|row| row.is_used_by(channel.hear.value, send) && has_mode(row, channel))
}

/// Whether a row is for a channel's mode.
pub(super) fn has_mode(row: &ServiceChannel, channel: &Channel) -> bool {
    row.modes.is_empty() || row.modes.iter().any(|known| known == channel.signal.mode.value.word())
}
