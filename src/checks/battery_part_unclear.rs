//! A battery of a station is one of the plan's batteries, and nothing else is.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{PartKind, subject};

/// A battery of a station is one of the plan's batteries, and nothing else is.
pub(super) const RULE: Rule = Rule::warning("battery-part-unclear", "this program's own format", DOC);

const DOC: &str = r#"
Finds: a part of kind `battery` that names no `[[battery]]`, or one of another kind that does or that is `charged-by` something.
Costs: nobody can say how long the station runs.

Wrong:
```toml
[[station]]
id = "table-set"
name = "Table set"
part = [
  { id = "pack", kind = "battery" },     # battery-part-unclear
]
```
Right: a `[[battery]]` with its capacity, and `battery = "shelf"` with its id.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        for part in &station.parts {
            let is_battery = part.kind.value == PartKind::Battery;
            if let Some(other) = part.charged_by.first().filter(|_| !is_battery) {
                let what =
                    format!("{} of {} is charged, and is a {}", part.name.value, station.name.value, part.kind.value);
                found.push(
                    Finding::new(&RULE, other.from.span, what)
                        .label("charges what is no battery")
                        .help("write it beside the part with `kind = \"battery\"`")
                        .on(subject(station)),
                );
            }
            if is_battery == part.battery.is_some() {
                continue;
            }
            let what = if is_battery {
                format!("{} of {} is a battery, and none of the plan's is named", part.name.value, station.name.value)
            } else {
                format!("{} of {} names a battery and is a {}", part.name.value, station.name.value, part.kind.value)
            };
            let help = if is_battery {
                "write `battery` with the id of a `[[battery]]`"
            } else {
                "write `kind = \"battery\"`, or leave `battery` out"
            };
            found.push(Finding::new(&RULE, part.kind.span, what).label("which is it?").help(help).on(subject(station)));
        }
    }
}
