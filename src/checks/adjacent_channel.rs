//! Two FM signals that can meet lie a channel apart.

use super::Facts;
use super::many::{MOST_EACH, first_few, likewise, naming};
use crate::ground::{Finding, Findings, Rule, Stretch, Subject, Width};
use crate::plan::Mode;
use crate::reckon::{Coverage, Spots, Transmission, own_transmissions, spots_can_meet};
use crate::tables::Raster;

/// Two FM signals that can meet lie a channel apart.
pub(super) const RULE: Rule = Rule::warning(
    "adjacent-channel",
    "the rows of the profile: channel spacing of the band plan, common practice, no source",
    DOC,
);

const DOC: &str = r#"
Finds: two channels, repeater outputs or inputs, or gateways that do not overlap but whose middles lie closer than the spacing of the band, unless a `range` keeps them apart. Of one that lies too near to more than eight others a single finding tells.
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
pub(super) fn spacing<'a>(facts: Facts<'a>, sent: &Transmission<'_>) -> Option<(&'a Raster, Width)> {
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
    let coverage = Coverage::of(facts.plan);
    let of_plan = own_transmissions(facts.plan).filter(is_spaced);
    let mut all: Vec<Spaced<'_>> = of_plan
        .map(|sent| {
            let (on, occupied) = (sent.from.subject(), facts.occupies(&sent).ok());
            Spaced { sent, on, occupied, spots: sent.heard(&coverage) }
        })
        .collect();
    all.sort_by(|a, b| (a.sent.frequency.value, &a.on).cmp(&(b.sent.frequency.value, &b.on)));
    for (index, lower) in all.iter().enumerate() {
        let Some((row, spacing)) = spacing(facts, &lower.sent) else { continue };
        let near = all.iter().skip(index + 1).take_while(|upper| lower.apart(upper) < spacing.as_hertz());
        let near = first_few(near.filter(|upper| lower.is_disturbed_by(upper)));
        match near.as_slice() {
            few if few.len() <= MOST_EACH => {
                few.iter().for_each(|upper| found.push(finding(lower, upper, (row, spacing), &[])));
            }
            [upper, ..] => found.push(finding(lower, upper, (row, spacing), &near)),
            [] => {}
        }
    }
}

/// A transmission with what is asked of it again and again.
struct Spaced<'a> {
    sent: Transmission<'a>,
    on: Option<Subject>,
    occupied: Option<Stretch>,
    spots: Spots<'a>,
}

impl Spaced<'_> {
    fn apart(&self, upper: &Self) -> u64 {
        (upper.sent.frequency.value - self.sent.frequency.value).size()
    }

    /// Whether another, within the spacing, is one that this one can meet and does not overlap.
    fn is_disturbed_by(&self, upper: &Self) -> bool {
        let is_free = Option::zip(self.occupied, upper.occupied).is_some_and(|(one, other)| !one.overlaps(&other));
        self.apart(upper) > 0 && is_free && self.on != upper.on && spots_can_meet(&self.spots, &upper.spots)
    }
}

/// A finding of two; with it stand all that lie too near to the lower where these are many.
fn finding(lower: &Spaced<'_>, upper: &Spaced<'_>, (row, spacing): (&Raster, Width), all: &[&Spaced<'_>]) -> Finding {
    let (words, other) = (lower.sent.words(), upper.sent.words());
    let (apart, more) = (Width::hertz(lower.apart(upper)), likewise(all));
    let what = format!("{words} and {other} lie {apart} apart, where the spacing is {spacing}{more}");
    let finding = Finding::new(&RULE, upper.sent.frequency.span, what)
        .label("too near to the other")
        .and(lower.sent.frequency.span, "the other")
        .note(format!("{} ({})", row.cite.source, row.cite.confidence))
        .help("move one of them, or write the `range` of both where they are worked far apart")
        .on_all(upper.on.clone())
        .on_all(lower.on.clone());
    naming(finding, all.iter().skip(1).map(|upper| upper.on.clone()))
}

/// Spacing is a custom of FM and of data on FM.
pub(super) fn is_spaced(sent: &Transmission<'_>) -> bool {
    sent.side.is_none() && matches!(sent.signal.mode.value, Mode::Fm | Mode::Data)
}
