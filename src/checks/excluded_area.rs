//! Where nobody may transmit from an area, no station of the plan may stand in it.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{Within, from_line, within};

/// Where nobody may transmit from an area, no station of the plan may stand in it.
pub(super) const RULE: Rule = Rule::error("excluded-area", "the rows of the profile; us: 47 CFR 97.303", DOC);

const DOC: &str = r#"
Finds: a station, repeater or gateway that sends on a stretch on which nobody may transmit from where it stands.
Costs: interference to a range or a radar that has the frequency to itself, and the end of the licence.

Wrong:
```toml
[[place]]
id = "mesa"
code = "MSA"
tactical = "Mesa Site"
kind = "repeater-site"
position = "32.5, -106.5"
visited-on = 2026-10-04

[[repeater]]
id = "mesa-900"
call = "WZ7QUX"
place = "mesa"
output = "927.500 MHz"      # excluded-area
input = "-25 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }
```
Right: move it to another band: within the White Sands Missile Range nobody sends on 33 cm.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(reaches) = facts.reaches(&sender) else { continue };
        for row in facts.profile.exclusions.iter().filter(|row| row.edges.overlaps(&reaches)) {
            let spots = sender.spots();
            let Some(spot) = spots.iter().find(|spot| within(&row.area, spot) == Within::Yes) else { continue };
            let what = format!(
                "{} sends on {}, where nobody may transmit from {}",
                sender.words(),
                sender.frequency.value,
                row.area.name
            );
            let at = spot.name.map_or_else(|| "the plan's region".to_owned(), |name| format!("the place {name}"));
            let lies = match from_line(&row.area, spot) {
                Some(far) => format!("{at} lies in it, {} km beyond the line", far.as_metres() / 1000),
                None => format!("{at} lies in it"),
            };
            found.push(
                Finding::new(&RULE, sender.frequency.span, what)
                    .label("not from there")
                    .note(format!("{lies}; {} ({})", row.edges, row.cite.source))
                    .help("move it to another band")
                    .on_all(sender.from.subject()),
            );
        }
    }
}
