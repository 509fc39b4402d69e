//! Between a panel and a battery stands a charge controller.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{PartKind, subject};
use crate::reckon::Wiring;

/// Between a panel and a battery stands a charge controller.
pub(super) const RULE: Rule = Rule::warning("panel-without-controller", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a battery that a panel charges with no charge controller between them: by a cable of its own, or through boxes that only part a current.
Costs: a panel gives what the sun gives: it boils a lead-acid battery, opens the guard of a lithium one, and drains both at night.

Wrong:
```toml
[[battery]]
id = "shelf"
name = "Shelf battery"
capacity = "50 Ah"
chemistry = "lead-acid"

[[station]]
id = "table-set"
name = "Table set"
part = [
  { id = "roof", kind = "panel", power = "50 W" },
  { id = "pack", kind = "battery", battery = "shelf", from = "roof", fuse = "5 A" },     # panel-without-controller
]
```
Right: a part of the kind `charge-controller` with `from = "roof"`, and `from` of the battery with its id. What the makers of the panel, of the controller and of the battery say comes first.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        for lead in wiring.leads() {
            let Some(battery) = wiring.nodes.get(lead.to).filter(|node| node.part.kind.value == PartKind::Battery)
            else {
                continue;
            };
            let Some(panel) = panel_behind(&wiring, lead.from) else { continue };
            let panel = &panel.part.name;
            let what = format!(
                "{} charges {} of {} with no controller between them",
                panel.value, battery.part.name.value, station.name.value
            );
            found.push(
                Finding::new(&RULE, lead.named.span, what)
                    .label("what the sun gives comes here")
                    .and(panel.span, "the panel")
                    .help("add a part with `kind = \"charge-controller\"` behind the panel, and name it here")
                    .on(subject(station)),
            );
        }
    }
}

/// The panel whose current comes through a part as it is: the part itself, or what feeds it through boxes that only part a current.
fn panel_behind<'w, 'a>(wiring: &'w Wiring<'a>, from: usize) -> Option<&'w crate::reckon::WiredPart<'a>> {
    let mut at = wiring.nodes.get(from)?;
    // No longer way than there are parts: those of a circle lead nowhere.
    for _ in 0..wiring.nodes.len() {
        match at.part.kind.value {
            PartKind::Panel => return Some(at),
            PartKind::Distribution => at = wiring.feeder(at)?,
            _ => return None,
        }
    }
    None
}
