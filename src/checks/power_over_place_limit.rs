//! Nothing is sent from a place with more than its keepers agreed to.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Nothing is sent from a place with more than its keepers agreed to.
pub(super) const RULE: Rule = Rule::warning(
    "power-over-place-limit",
    "what the site's own staff allow, as the plan writes it in the place's `transmit`",
    DOC,
);

const DOC: &str = r#"
Finds: a place whose `transmit` has a `max`, where the plan lets something send with more, or does not say with how much: a channel that the place monitors, one that a post there works, a repeater, gateway or link that stands there.
Costs: whoever reads another copy than the place's own sends with too much beside equipment that was agreed about.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
transmit = { allowed = "roof only", agreed-by = "Clinical engineering", on = 2026-10-04, max = "5 W" }
monitors = ["cmd"]          # power-over-place-limit

[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
power = "25 W"
```
Right: `power = "5 W"` for the channel, or another channel for this place. The copy made for the place, and those of members on duty there, print the 5 W meanwhile.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Some(limit) = place.transmit.as_ref().filter(|limit| !limit.is_nowhere()) else { continue };
        let Some(max) = limit.max else { continue };
        let Ok(site) = facts.site(place) else { continue };
        for sender in &site.senders {
            let Some(of) = &sender.subject else { continue };
            let (name, site) = (&sender.name, &place.tactical.value);
            let what = match sender.power {
                Some(power) if power <= max.value => continue,
                Some(power) => {
                    format!("at {site} {name} sends with up to {power}, over the {} that the site agreed to", max.value)
                }
                None => {
                    format!(
                        "at {site} {name} sends with a power that is not written, and the site agreed to {}",
                        max.value
                    )
                }
            };
            found.push(
                Finding::new(&RULE, sender.span, what)
                    .label("sends there")
                    .and(max.span, "the most there")
                    .note("the place's own copy, and those of members on duty there, print the lower power")
                    .help(format!(
                        "where everybody may use less, write `power = \"{}\"` for it; where the lower power on those copies is enough, accept this with its reason in `[[accept]]`",
                        max.value
                    ))
                    .on(subject(place))
                    .on(of.clone()),
            );
        }
    }
}
