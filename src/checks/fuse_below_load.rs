//! A fuse carries what flows through it.

use super::Facts;
use crate::ground::{Current, Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::Wiring;

/// A fuse carries what flows through it.
pub(super) const RULE: Rule = Rule::warning("fuse-below-load", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a part that draws more than the `fuse` of its own cable carries.
Costs: it blows at the first long word, and the station is off the air until somebody finds another.

Wrong:
```toml
[[battery]]
id = "shelf"
name = "Shelf battery"
capacity = "50 Ah"
chemistry = "lithium-iron-phosphate"

[[station]]
id = "table-set"
name = "Table set"
part = [
  { id = "pack", kind = "battery", battery = "shelf" },
  { id = "radio", kind = "radio", from = "pack", fuse = "5 A", idle = "0.5 A", sending = "9 A" },     # fuse-below-load
]
```
Right: a fuse as the maker of the radio says, if the wire carries as much: `fuse = "15 A"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        let passed = wiring.drawn_by_fed();
        for (at, (node, passed)) in wiring.nodes.iter().zip(passed).enumerate() {
            let drawn = if node.is_in_circle { Current::grains(0) } else { wiring.flows_into(at, passed) };
            let fuses = wiring.leads_to(at).filter_map(|lead| lead.cable.fuse);
            let Some(fuse) = fuses.min_by_key(|fuse| fuse.value).filter(|fuse| fuse.value < drawn) else { continue };
            let what = format!(
                "{} of {} draws {drawn} at once through a fuse of {}",
                node.part.name.value, station.name.value, fuse.value
            );
            found.push(
                Finding::new(&RULE, fuse.span, what)
                    .label("carries less")
                    .help("take the fuse that the maker of the equipment names, if the wire carries as much; else a thicker wire")
                    .on(subject(station)),
            );
        }
    }
}
