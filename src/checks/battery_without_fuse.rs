//! Every cable from a battery begins with a fuse.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{PartKind, subject};
use crate::reckon::Wiring;

/// Every cable from a battery begins with a fuse.
pub(super) const RULE: Rule = Rule::warning("battery-without-fuse", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a part that a battery feeds and whose cable has no `fuse` where it begins.
Costs: a battery gives hundreds of amperes into a pinched cable: it glows, and what lies on it burns.

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
  { id = "lamp", kind = "light", from = "pack", idle = "0.5 A" },     # battery-without-fuse
]
```
Right: a fuse as near to the battery as it can be, no larger than the makers of the wire and of the part say: `fuse = "3 A"`. What charges a battery needs one there as well.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        for lead in wiring.leads().filter(|lead| lead.cable.fuse.is_none()) {
            let is_battery = |kind| kind == PartKind::Battery;
            let ends = wiring.nodes.get(lead.to).zip(wiring.nodes.get(lead.from));
            let ends =
                ends.filter(|(node, feeder)| is_battery(feeder.part.kind.value) || is_battery(node.part.kind.value));
            let Some((node, feeder)) = ends else { continue };
            let what = format!(
                "no fuse between {} and {} of {}",
                feeder.part.name.value, node.part.name.value, station.name.value
            );
            found.push(
                Finding::new(&RULE, lead.named.span, what)
                    .label("a cable at a battery without a fuse")
                    .help("put a fuse at the battery, as the makers of the wire and of the part say, and write `fuse`")
                    .on(subject(station)),
            );
        }
    }
}
