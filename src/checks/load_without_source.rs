//! Every load of a station is fed by something.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::Wiring;

/// Every load of a station is fed by something.
pub(super) const RULE: Rule = Rule::warning("load-without-source", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a part of a station that draws power and that no battery, mains or panel feeds, directly or through other parts.
Costs: the team unpacks it, and there is nothing to plug it into; no budget counts it.

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
  { id = "box", kind = "distribution", from = "pack", fuse = "30 A" },
  { id = "lamp", kind = "light", idle = "0.5 A" },    # load-without-source
]
```
Right: say what feeds it, `from = "box"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        for node in wiring.nodes.iter().filter(|node| node.part.kind.value.is_load()) {
            if node.source.is_some() || node.is_in_circle {
                continue;
            }
            let (part, feeder) = (node.part, wiring.feeder(node));
            let by =
                feeder.map_or_else(String::new, |feeder| format!(", though {} leads to it", feeder.part.name.value));
            let what = format!("nothing feeds {} of {}{by}", part.name.value, station.name.value);
            let span = part.from.as_ref().map_or(part.id.span, |from| from.span);
            found.push(
                Finding::new(&RULE, span, what)
                    .label("no battery, mains or panel behind it")
                    .help("write `from` with the part that feeds it, back to a battery")
                    .on(subject(station)),
            );
        }
    }
}
