//! What is listened to alone in a service with fixed channels is one of them.

use super::Facts;
use super::service_channel_unknown::is_in_whole;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::tables::ServiceChannel;

/// What is listened to alone in a service with fixed channels is one of them.
pub(super) const RULE: Rule = Rule::warning("heard-beside-channel", "the rows of the profile", DOC);

const DOC: &str = r#"
Finds: a channel to listen to alone, of a service whose channels the profile lists (weather, marine, FRS and others), on a frequency that none of them has.
Costs: a mistyped digit, and the radio stays silent beside the broadcast.

Wrong:
```toml
[[channel]]
id = "weather"
row = 2
name = "WX 7"
spoken = "Weather"
service = "weather"
rx = "162.557 MHz"          # heard-beside-channel
tx = "none"
```
Right: write the channel's frequency, `rx = "162.550 MHz"`, or its name, `standard = "weather 162.550"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.send.is_none()) {
        let (hear, service) = (channel.hear, &channel.service.value);
        let has = |row: &ServiceChannel| row.frequency == hear.value || row.input == Some(hear.value);
        if facts.profile.channels_of(service).any(has) {
            continue;
        }
        let near = facts.profile.channels_of(service).min_by_key(|row| (row.frequency - hear.value).size());
        let Some(near) = near.filter(|near| is_in_whole(service, hear.value, near)) else { continue };
        let what =
            format!("channel {} listens on {}, which is no channel of {service}", channel.name.value, hear.value);
        let finding = Finding::new(&RULE, hear.span, what)
            .label("no channel of this service")
            .note(format!("the nearest is {}, {} ({})", near.name, near.frequency, near.cite.source))
            .help(format!("write \"{}\"", near.frequency))
            .on(subject(channel));
        let is_written = channel.standard.is_none() && channel.has_own_frequencies() && channel.side().is_none();
        found.push(if is_written { finding.fix(hear.span, format!("\"{}\"", near.frequency)) } else { finding });
    }
}
