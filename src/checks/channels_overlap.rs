//! Two channels should not share spectrum.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity, Span, Stretch};
use crate::plan::{Channel, Route, subject};
use crate::reckon::{occupied_by, spots_can_meet, spots_of};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Two channels should not share spectrum.
pub(super) const RULE: Rule = Rule {
    name: "channels-overlap",
    severity: Severity::Warning,
    waivable: true,
    source: "what each emission occupies by 47 CFR 2.202 (necessary bandwidth)",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two channels to send on that are not one repeater or gateway, and whose emissions overlap.
Costs: two nets that were meant to work side by side disturb each other.

Wrong:
```toml
[[channel]]
id = "tac-1"
slot = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
slot = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.560 MHz"     # channels-overlap
verified = { on = 2026-10-01, by = "qra" }
```
Right: keep them at least one width apart: `simplex = "146.570 MHz"`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let channels: Vec<(&Channel, Vec<(Stretch, Span)>)> =
        facts.plan.channels.iter().filter(|c| c.send.is_some()).map(|c| (c, stretches(facts, c))).collect();
    let spots: Vec<_> = channels.iter().map(|(channel, _)| spots_of(facts.plan, channel)).collect();
    for (index, (second, theirs)) in channels.iter().enumerate() {
        for (before, (first, ours)) in channels.iter().enumerate().take(index) {
            if is_one_station(first, second) {
                continue;
            }
            let pairs = theirs.iter().flat_map(|their| ours.iter().map(move |our| (their, our)));
            let Some((their, our)) = pairs.into_iter().find(|(their, our)| their.0.overlaps(&our.0)) else { continue };
            let (here, there) = (spots.get(before), spots.get(index));
            if !Option::zip(here, there).is_none_or(|(here, there)| spots_can_meet(here, there)) {
                continue;
            }
            let what = format!(
                "channel {} ({}) and channel {} ({}) overlap",
                second.name.value, their.0, first.name.value, our.0
            );
            found.push(
                Finding::new(&RULE, their.1, what)
                    .label("occupies part of the other")
                    .and(our.1, "the other channel")
                    .help("move one of them; where they are worked far apart, write the `range` of each and the `position` of its places")
                    .on(subject(*second))
                    .on(subject(*first)),
            );
        }
    }
}

/// What a channel occupies to hear and to send; once where both are the same.
fn stretches(facts: Facts<'_>, channel: &Channel) -> Vec<(Stretch, Span)> {
    let ends = [Some(channel.hear), channel.send];
    let occupied = |end: crate::ground::At<crate::ground::Frequency>| {
        Some((occupied_by(end.value, &channel.signal, channel.side(), &facts.tables.modes)?, end.span))
    };
    let mut all: Vec<_> = ends.into_iter().flatten().filter_map(occupied).collect();
    all.dedup_by(|a, b| a.0 == b.0);
    all
}

/// Two rows of one repeater or gateway are one station on one frequency.
fn is_one_station(first: &Channel, second: &Channel) -> bool {
    match (&first.route, &second.route) {
        (Route::Repeater(a), Route::Repeater(b)) | (Route::Gateway(a), Route::Gateway(b)) => a.value == b.value,
        _ => false,
    }
}
