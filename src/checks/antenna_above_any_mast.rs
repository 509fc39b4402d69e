//! An antenna's height is that above ground.

use super::Facts;
use crate::ground::{Finding, Findings, Height, Rule};
use crate::plan::subject;
use crate::reckon::radio_horizon;

/// An antenna's height is that above ground.
pub(super) const RULE: Rule =
    Rule::warning("antenna-above-any-mast", "common practice, no source: the limit is this program's own", DOC);

const DOC: &str = r#"
Finds: an antenna whose `height` is more than 610 m above ground, which hardly a mast on earth is, or less than nothing.
Costs: a height above the sea makes a horizon of a hundred kilometers: a path is told to reach that never will, and radios far apart to disturb each other.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "other"
visited-on = 2026-10-04
antenna = [{ id = "roof", kind = "vertical", height = "1240 m" }]      # antenna-above-any-mast
```
Right: the height above ground, `height = "18 m"`.
"#;

/// 2000 ft: masts are hardly ever higher.
const HIGHEST: i64 = 61_000;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        for antenna in &place.antennas {
            let Some(height) = antenna.height.filter(|at| !(0..=HIGHEST).contains(&at.value.as_centimetres())) else {
                continue;
            };
            let what = format!(
                "antenna {} at {} stands {} above ground",
                antenna.id.value, place.tactical.value, height.value
            );
            let finding = Finding::new(&RULE, height.span, what).on(subject(place));
            found.push(if is_under_ground(height.value) {
                finding.label("under ground").help("write how far it stands above ground, as \"18 m\"")
            } else {
                let horizon = radio_horizon(height.value);
                finding
                    .label("above 610 m")
                    .note(format!("its radio horizon is reckoned at {horizon}"))
                    .help("write its height above ground, as \"18 m\", not that above the sea")
            });
        }
    }
}

fn is_under_ground(height: Height) -> bool {
    height.as_centimetres() < 0
}
