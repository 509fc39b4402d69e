//! An inverter gives what all that hangs on it draws at once.

use super::Facts;
use crate::ground::{Current, Finding, Findings, Power, Rule};
use crate::plan::{PartKind, subject};
use crate::reckon::Wiring;

/// An inverter gives what all that hangs on it draws at once.
pub(super) const RULE: Rule = Rule::warning("inverter-too-small", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: an inverter, a converter or a supply with a `power` below what all that it feeds draws together, each at its most.
Costs: it shuts off when the printer starts, and takes the computer with it.

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
  { id = "maker", kind = "inverter", from = "pack", fuse = "50 A", voltage = "120 V", power = "150 W" },     # inverter-too-small
  { id = "notebook", kind = "computer", from = "maker", idle = "0.5 A" },
  { id = "printer", kind = "printer", from = "maker", idle = "0.1 A", sending = "3 A" },
]
```
Right: a larger one, or one load at a time. Motors and printers draw more still when they start: ask their makers.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        let drawn = wiring.drawn_by_fed();
        for (node, drawn) in wiring.nodes.iter().zip(drawn) {
            let (Some(power), Some(volts)) = (node.part.power, node.gives) else { continue };
            if node.part.kind.value == PartKind::Panel || drawn == Current::grains(0) {
                continue;
            }
            let microwatts = i128::from(drawn.as_grains()) * i128::from(volts.as_grains());
            let asked = u64::try_from((microwatts + 999) / 1000).unwrap_or(u64::MAX);
            if asked <= power.value.as_milliwatts() {
                continue;
            }
            let what = format!(
                "{} of {} gives {}, and what it feeds draws {} at once",
                node.part.name.value,
                station.name.value,
                power.value,
                Power::milliwatts(asked)
            );
            found.push(
                Finding::new(&RULE, power.span, what)
                    .label("the most it gives")
                    .note(format!("{drawn} at {volts}, each load at its most"))
                    .help("take a larger one, or feed part of it by another")
                    .on(subject(station)),
            );
        }
    }
}
