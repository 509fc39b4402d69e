//! Of every load it is known what it draws.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::most;

/// Of every load it is known what it draws.
pub(super) const RULE: Rule = Rule::warning("load-without-current", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a load of a station of which no current is written.
Costs: the budget counts nothing for it, so that the battery is empty before the paper says so.

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
  { id = "lamp", kind = "light", from = "pack", fuse = "3 A" },     # load-without-current
]
```
Right: measure it, or read its plate: `idle = "0.5 A"`, and for a radio what it draws `receiving` and `sending`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        for part in station.parts.iter().filter(|part| part.kind.value.is_load() && most(part).is_none()) {
            let what = format!(
                "what {} of {} draws is not written, so nothing is counted",
                part.name.value, station.name.value
            );
            found.push(
                Finding::new(&RULE, part.kind.span, what)
                    .label("a load without a current")
                    .help("measure it, or read its plate, and write `idle`; for a radio `receiving` and `sending` as well")
                    .on(subject(station)),
            );
        }
    }
}
