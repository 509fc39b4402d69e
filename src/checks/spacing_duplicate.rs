//! What keeps two antennas of a place apart is said once.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule};
use crate::plan::{Spacing, subject};
use std::collections::BTreeMap;

/// What keeps two antennas of a place apart is said once.
pub(super) const RULE: Rule = Rule::of_format("spacing-duplicate", DOC);

const DOC: &str = r#"
Finds: a second `spacing` of the same two antennas of a place, in either order.
Costs: 90 dB in one line and 10 dB in the other, and nobody knows which of them the site was judged by.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "other"
visited-on = 2026-10-04
antenna = [{ id = "low" }, { id = "high" }]
spacing = [
  { of = ["low", "high"], isolation = "90 dB" },
  { of = ["high", "low"], isolation = "10 dB" },   # spacing-duplicate
]
```
Right: keep the one that was measured last.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let mut seen: BTreeMap<[&Id; 2], &Spacing> = BTreeMap::new();
        for spacing in &place.spacings {
            let [one, other] = &spacing.of;
            let mut pair = [&one.value, &other.value];
            pair.sort_unstable();
            let Some(first) = seen.get(&pair) else {
                seen.insert(pair, spacing);
                continue;
            };
            let (now, before, tactical) = (said(spacing), said(first), &place.tactical.value);
            let [low, high] = pair;
            let what = format!("between {low} and {high} at {tactical} the plan says {now}, and before that {before}");
            found.push(
                Finding::new(&RULE, one.span, what)
                    .label("these two again")
                    .and(first.of[0].span, "first here")
                    .help("keep one of the two, the one that was measured last")
                    .on(subject(place)),
            );
        }
    }
}

/// `90 dB`, `12 m`: what counts of it.
fn said(spacing: &Spacing) -> String {
    let isolation = spacing.isolation.map(|isolation| isolation.value.to_string());
    isolation.or_else(|| spacing.distance.map(|distance| distance.value.to_string())).unwrap_or_default()
}
