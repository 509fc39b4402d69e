//! No two antennas of a place have one id.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, Span};
use crate::plan::subject;
use std::collections::BTreeMap;

/// No two antennas of a place have one id.
pub(super) const RULE: Rule = Rule::of_format("antenna-duplicate", DOC);

const DOC: &str = r#"
Finds: two antennas of a place with the same id.
Costs: what is measured between the two of a `spacing` is counted for one antenna with itself, and two radios that deafen each other pass.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "other"
visited-on = 2026-10-04
antenna = [
  { id = "roof", kind = "vertical" },
  { id = "roof", kind = "dipole" },      # antenna-duplicate
]
```
Right: give each its own id, `id = "roof-west"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let mut seen: BTreeMap<&Id, Span> = BTreeMap::new();
        for antenna in &place.antennas {
            let id = &antenna.id;
            let Some(first) = seen.get(&id.value).copied() else {
                seen.insert(&id.value, id.span);
                continue;
            };
            let what = format!("two antennas at {} are called {}", place.tactical.value, id.value);
            found.push(
                Finding::new(&RULE, id.span, what)
                    .label("the same id again")
                    .and(first, "first here")
                    .help("give one of them another id, and write it wherever that antenna is meant")
                    .on(subject(place)),
            );
        }
    }
}
