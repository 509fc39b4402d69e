//! Of every load it is known what it draws.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::most;

/// Of every load it is known what it draws.
pub(super) const RULE: Rule = Rule::warning("load-without-current", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a load of a station of which no current is written, or only what it draws while it sends.
Costs: the budget counts nothing for it, or for the time it waits, so that the battery is empty before the paper says so.

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
        for part in station.parts.iter().filter(|part| part.kind.value.is_load()) {
            let waits = part.idle.as_ref().or(part.receiving.as_ref());
            let what = match (waits, most(part)) {
                (Some(_), _) => continue,
                (None, None) => "draws is not written, so nothing is counted",
                (None, Some(_)) => "draws while it does not send is not written, so nothing is counted for that time",
            };
            found.push(
                Finding::new(
                    &RULE,
                    part.kind.span,
                    format!("what {} of {} {what}", part.name.value, station.name.value),
                )
                .label("a load without a current")
                .help("measure it, or read its plate, and write `idle`; for a radio `receiving` and `sending` as well")
                .on(subject(station)),
            );
        }
    }
}
