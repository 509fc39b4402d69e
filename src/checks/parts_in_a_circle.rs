//! No part of a station feeds itself.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, counted};
use crate::plan::subject;
use crate::reckon::Wiring;

/// No part of a station feeds itself.
pub(super) const RULE: Rule = Rule::warning("parts-in-a-circle", "this program's own format", DOC);

const DOC: &str = r#"
Finds: parts of a station that feed each other in a circle.
Costs: none of them has a source: what they feed is dead, and no budget counts it.

Wrong:
```toml
[[station]]
id = "table-set"
name = "Table set"
part = [
  { id = "box", kind = "distribution", from = "maker" },       # parts-in-a-circle
  { id = "maker", kind = "inverter", from = "box" },
]
```
Right: follow the current back from each part: it ends at a battery, mains or a panel.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        let is_caught = |at: usize| wiring.nodes.get(at).is_some_and(|node| node.is_in_circle);
        let mut caught = wiring.nodes.iter().enumerate().filter(|(_, node)| node.is_in_circle);
        let Some((at, first)) = caught.next() else { continue };
        let others = caught.count();
        let what = format!(
            "{} of {} feeds itself through others; {} caught in that",
            first.part.name.value,
            station.name.value,
            counted(others + 1, "part is", "parts are")
        );
        let lead = wiring.leads_to(at).find(|lead| is_caught(lead.from));
        let span = lead.map_or(first.part.id.span, |lead| lead.named.span);
        found.push(
            Finding::new(&RULE, span, what)
                .label("leads back to itself")
                .help("let one of them be fed by a battery, by mains or by a panel")
                .on(subject(station)),
        );
    }
}
