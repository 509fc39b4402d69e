//! No two parts of a station have one id.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, Span};
use crate::plan::subject;
use std::collections::BTreeMap;

/// No two parts of a station have one id.
pub(super) const RULE: Rule = Rule::of_format("part-duplicate", DOC);

const DOC: &str = r#"
Finds: two parts of a station with the same id.
Costs: what is fed by one of them is drawn at the other, and the cable that is packed does not fit.

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
  { id = "lamp", kind = "light", from = "pack", fuse = "3 A", idle = "0.5 A" },
  { id = "lamp", kind = "light", from = "pack", fuse = "3 A", idle = "0.5 A" },     # part-duplicate
]
```
Right: give each its own id, `id = "second-lamp"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let mut seen: BTreeMap<&Id, Span> = BTreeMap::new();
        for id in station.parts.iter().map(|part| &part.id) {
            let Some(first) = seen.get(&id.value).copied() else {
                seen.insert(&id.value, id.span);
                continue;
            };
            found.push(
                Finding::new(&RULE, id.span, format!("two parts of {} are called {}", station.name.value, id.value))
                    .label("the same id again")
                    .and(first, "first here")
                    .help("give one of them another id, and write it wherever that part is meant")
                    .on(subject(station)),
            );
        }
    }
}
