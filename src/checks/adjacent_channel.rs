//! Two FM signals that can meet lie a channel apart.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Width};
use crate::plan::Mode;
use crate::reckon::{Transmission, own_transmissions, spots_can_meet};
use crate::tables::Raster;

/// Two FM signals that can meet lie a channel apart.
pub(super) const RULE: Rule = Rule::warning(
    "adjacent-channel",
    "the rows of the profile: channel spacing of the band plan, common practice, no source",
    DOC,
);

const DOC: &str = r#"
Finds: two channels, repeater outputs or inputs, or gateways that do not overlap but whose middles lie closer than the spacing of the band, unless a `range` keeps them apart.
Costs: a strong station on the one is heard as crackle on the other, most of all where both are worked in one room.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.5625 MHz"    # adjacent-channel
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }
```
Right: keep to the spacing of the band plan, `simplex = "146.5650 MHz"`.
"#;

/// How far from what is sent there the next should lie.
fn spacing<'a>(facts: Facts<'a>, sent: &Transmission<'_>) -> Option<(&'a Raster, Width)> {
    let row = facts.profile.rasters.iter().find(|row| row.edges.has(sent.frequency.value))?;
    Some((row, row.spacing?))
}

/// Whether one of two lies too near to the other. What overlaps, or stands on one frequency, has a finding of its own.
pub(super) fn are_adjacent(facts: Facts<'_>, one: &Transmission<'_>, other: &Transmission<'_>) -> bool {
    let (one_at, other_at) = (one.frequency.value, other.frequency.value);
    let lower = if one_at < other_at { one } else { other };
    let apart = (one_at - other_at).size();
    let is_near = apart > 0 && spacing(facts, lower).is_some_and(|(_, spacing)| apart < spacing.as_hertz());
    is_near && Result::ok(facts.occupies(one)).zip(facts.occupies(other).ok()).is_some_and(|(a, b)| !a.overlaps(&b))
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut all: Vec<_> = own_transmissions(facts.plan).filter(is_spaced).collect();
    all.sort_by_cached_key(|sent| (sent.frequency.value, sent.from.subject()));
    for (index, lower) in all.iter().enumerate() {
        let Some((row, spacing)) = spacing(facts, lower) else { continue };
        let apart = |upper: &Transmission<'_>| (upper.frequency.value - lower.frequency.value).size();
        let near = all.iter().skip(index + 1).take_while(|upper| apart(upper) < spacing.as_hertz());
        for upper in near.filter(|upper| are_adjacent(facts, lower, upper)) {
            let (on, other) = (upper.from.subject(), lower.from.subject());
            if on == other || !spots_can_meet(&lower.heard(), &upper.heard()) {
                continue;
            }
            let what = format!(
                "{} and {} lie {} apart, where the spacing is {spacing}",
                lower.words(),
                upper.words(),
                Width::hertz(apart(upper))
            );
            found.push(
                Finding::new(&RULE, upper.frequency.span, what)
                    .label("too near to the other")
                    .and(lower.frequency.span, "the other")
                    .note(format!("{} ({})", row.cite.source, row.cite.confidence))
                    .help("move one of them, or write the `range` of both where they are worked far apart")
                    .on_all(on)
                    .on_all(other),
            );
        }
    }
}

/// Spacing is a custom of FM and of data on FM.
pub(super) fn is_spaced(sent: &Transmission<'_>) -> bool {
    sent.side.is_none() && matches!(sent.signal.mode.value, Mode::Fm | Mode::Data)
}
