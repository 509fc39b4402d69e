//! Two channels should not share spectrum.

use super::trial::nearest_clean;
use super::{Check, Facts};
use crate::ground::{At, Finding, Findings, Frequency, Rule, Severity, Span, Stretch, Subject};
use crate::plan::{Channel, Place, Record, Route, Side, Signal, subject};
use crate::reckon::{Spots, beyond_horizon, heard, spots_can_meet, spots_of};
use std::collections::BTreeSet;

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
Finds: two channels to send on that are not one repeater or gateway, and whose emissions overlap; likewise a repeater or gateway that no channel goes through. A `range` of both with the positions of their places keeps them apart.
Costs: two nets that were meant to work side by side disturb each other.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.560 MHz"     # channels-overlap
verified = { on = 2026-10-01, by = "qra" }
```
Right: keep them at least one width apart: `simplex = "146.570 MHz"`.
"#;

/// What stands on the air: a channel, or a repeater or gateway that no channel goes through.
struct Station<'a> {
    /// `channel CMD 1`.
    words: String,
    on: Subject,
    /// What it occupies to hear and to send; once where both are the same.
    stretches: Vec<(Stretch, Span)>,
    spots: Spots<'a>,
    /// Where its repeater or gateway stands.
    place: Option<&'a Place>,
    /// The repeater or gateway: two rows of one are one station.
    through: Option<Subject>,
}

fn check(facts: Facts<'_>, found: &mut Findings) {
    let stations = stations(facts);
    let mut searched = 0;
    for (index, second) in stations.iter().enumerate() {
        for first in stations.iter().take(index) {
            if first.through.is_some() && first.through == second.through {
                continue;
            }
            let pairs = second.stretches.iter().flat_map(|their| first.stretches.iter().map(move |our| (their, our)));
            let Some((their, our)) = pairs.into_iter().find(|(their, our)| their.0.overlaps(&our.0)) else { continue };
            if !spots_can_meet(&first.spots, &second.spots) {
                continue;
            }
            let what = format!("{} ({}) and {} ({}) overlap", second.words, their.0, first.words, our.0);
            let finding = Finding::new(&RULE, their.1, what)
                .label("occupies part of the other")
                .and(our.1, "the other")
                .on(second.on.clone())
                .on(first.on.clone());
            let help = help(facts, first, second, &mut searched);
            let finding = match help.1 {
                Some(fix) => finding.help(help.0).fix(their.1, fix),
                None => finding.help(help.0),
            };
            let beyond = Option::zip(second.place, first.place).and_then(|(one, other)| beyond_horizon(one, other));
            found.push(match beyond {
                Some((reach, apart)) => finding.note(format!(
                    "by the heights of their antennas alone the two reach {} km, and they stand {} km apart; hills are not known here",
                    reach.as_metres() / 1000,
                    apart.as_metres() / 1000
                )),
                None => finding,
            });
        }
    }
}

/// What to type, by what the plan says already; with the frequency where one alone is in the way of the second.
fn help(facts: Facts<'_>, first: &Station<'_>, second: &Station<'_>, searched: &mut usize) -> (String, Option<String>) {
    let lacking: Vec<&str> =
        [second, first].iter().filter(|one| one.spots.is_none()).map(|one| one.words.as_str()).collect();
    if !lacking.is_empty() {
        let whose = lacking.join(" and ");
        let text = format!(
            "move one of them; where they are worked far apart, write the `range` of {whose}, and the `position` of their places"
        );
        return (text, None);
    }
    let channel = facts.plan.channels.named(&second.on.id).filter(|_| second.on.kind == Channel::KIND);
    match channel.and_then(|channel| nearest_clean(facts, channel, &RULE, searched)) {
        Some(nearest) => (
            format!("the ranges that are written meet: write \"{nearest}\", the nearest that no rule speaks against"),
            Some(format!("\"{nearest}\"")),
        ),
        None => ("the ranges that are written meet: move one of them to another frequency, or give it a range that was found to be shorter".to_owned(), None),
    }
}

fn stations(facts: Facts<'_>) -> Vec<Station<'_>> {
    let plan = facts.plan;
    let mut stations: Vec<Station<'_>> = Vec::new();
    let mut known: BTreeSet<Subject> = BTreeSet::new();
    for channel in plan.channels.iter().filter(|channel| channel.send.is_some()) {
        let through = match &channel.route {
            Route::Repeater(id) => Some(Subject::new("repeater", id)),
            Route::Gateway(id) => Some(Subject::new("gateway", id)),
            _ => None,
        };
        known.extend(through.clone());
        let place = match &channel.route {
            Route::Repeater(id) => plan.repeaters.get(id).and_then(|repeater| repeater.place.as_ref()),
            Route::Gateway(id) => plan.gateways.get(id).and_then(|gateway| gateway.place.as_ref()),
            _ => None,
        };
        stations.push(Station {
            words: format!("channel {}", channel.name.value),
            on: subject(channel),
            stretches: stretches(facts, &channel.signal, channel.side(), [Some(channel.hear), channel.send]),
            spots: spots_of(plan, channel),
            place: place.and_then(|id| plan.places.get(id)),
            through,
        });
    }
    // Listening channels through a repeater do not make it known: it sends all the same.
    for repeater in plan.repeaters.iter().filter(|repeater| !known.contains(&subject(*repeater))) {
        stations.push(Station {
            words: format!("repeater {}", repeater.name.value),
            on: subject(repeater),
            stretches: stretches(facts, &repeater.signal, None, [Some(repeater.output), Some(*repeater.input)]),
            spots: heard(plan, repeater).map(|spot| vec![spot]),
            place: repeater.place.as_ref().and_then(|id| plan.places.get(id)),
            through: Some(subject(repeater)),
        });
    }
    for gateway in plan.gateways.iter().filter(|gateway| !known.contains(&subject(*gateway))) {
        stations.push(Station {
            words: format!("gateway {}", gateway.name.value),
            on: subject(gateway),
            stretches: stretches(facts, &gateway.signal, None, [Some(gateway.frequency), None]),
            spots: None,
            place: gateway.place.as_ref().and_then(|id| plan.places.get(id)),
            through: Some(subject(gateway)),
        });
    }
    stations
}

fn stretches(
    facts: Facts<'_>,
    signal: &Signal,
    side: Option<Side>,
    ends: [Option<At<Frequency>>; 2],
) -> Vec<(Stretch, Span)> {
    let occupied = |end: At<Frequency>| Some((facts.occupied_by(end.value, signal, side).ok()?, end.span));
    let mut all: Vec<_> = ends.into_iter().flatten().filter_map(occupied).collect();
    all.dedup_by(|a, b| a.0 == b.0);
    all
}
