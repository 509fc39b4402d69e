//! An auxiliary station or an automatic beacon stands in its segments and keeps to its power.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Stretch};
use crate::plan::{StationKind, subject};
use crate::tables::LimitedSegment;

/// An auxiliary station or an automatic beacon stands in its segments and keeps to its power.
pub(super) const RULE: Rule = Rule::error(
    "unattended-station-limits",
    "the rows of the profile; us: 47 CFR 97.201 (auxiliary stations), 97.203 (beacons)",
    DOC,
);

const DOC: &str = r#"
Finds: a channel marked `station = "auxiliary"` or `station = "beacon"` outside the segments where such a station may stand, or a beacon with more power than it may have.
Costs: a transmitter that works alone, all day, where it may not.

Wrong:
```toml
[[channel]]
id = "link"
row = 2
name = "LINK"
spoken = "Link"
simplex = "431.500 MHz"     # unattended-station-limits
station = "auxiliary"
mode = "data"
verified = { on = 2026-10-01, by = "qra" }
```
Right: move the link to where auxiliary stations may stand, `simplex = "433.100 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.service.is_amateur()) {
        let (Some(station), Some(send)) = (channel.station, channel.send) else { continue };
        let segments: &[LimitedSegment] = match station.value {
            StationKind::Auxiliary => &facts.profile.auxiliary_segments,
            StationKind::Beacon => &facts.profile.beacon_segments,
        };
        let Some(stretch) = facts.sent_on(channel) else { continue };
        if segments.is_empty() || facts.profile.band_of(&stretch).is_none() {
            continue;
        }
        let kind = station.value;
        let near = segments.iter().min_by_key(|segment| segment.edges.distance(send.value));
        if !Stretch::are_covering(segments.iter().map(|segment| segment.edges), &stretch) {
            let what = format!(
                "channel {} has {} on {stretch}, where none may stand",
                channel.name.value,
                if kind == StationKind::Beacon { "a beacon" } else { "an auxiliary station" }
            );
            let finding = Finding::new(&RULE, send.span, what)
                .label("outside")
                .and(station.span, "what stands there")
                .on(subject(channel));
            found.push(match near {
                Some(near) => {
                    finding.note(format!("the nearest segment runs from {} ({})", near.edges, near.cite.source))
                }
                None => finding,
            });
            continue;
        }
        let Some((power, most)) = channel.power.zip(near.and_then(|near| near.most)) else { continue };
        if power.value > most {
            let what = format!("channel {} allows its {kind} {}, over {most}", channel.name.value, power.value);
            let finding = Finding::new(&RULE, power.span, what).label("too much for it").on(subject(channel));
            let help = format!("write `power = \"{most}\"` or less");
            found.push(finding.help(help).fix(power.span, format!("\"{most}\"")));
        }
    }
}
