//! Two channels should not share spectrum.

use super::Facts;
use super::many::{MOST_EACH, Spectrum, first_few, likewise, naming};
use super::overlaps::{Occupier, Overlap, keep_spacing, overlap, stations};
use super::trial::nearest_clean;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{Transmitter, beyond_horizon};

/// Two channels should not share spectrum.
pub(super) const RULE: Rule =
    Rule::warning("channels-overlap", "what each emission occupies by 47 CFR 2.202 (necessary bandwidth)", DOC);

const DOC: &str = r#"
Finds: two channels to send on that are not one repeater or gateway, and whose emissions overlap; likewise a repeater or gateway that no channel goes through. Not found: a repeater's own direct fallback (a channel that is `direct` there, or one on its output to which its `next` leads), channels that another service's rules give to all, unless nets work both, and FM channels that lie the band plan's spacing apart. A `range` of both with the positions of their places keeps them apart. Of one that overlaps more than eight others a single finding tells.
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

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    let stations = stations(facts);
    let mut spectrum = Spectrum::default();
    for second in &stations {
        let occupied = second.occupied();
        let near = spectrum.near(&occupied).filter_map(|index| stations.get(index));
        let overlaps =
            first_few(near.filter_map(|first| overlap(second, first, |one, other| !keep_spacing(facts, one, other))));
        match overlaps.as_slice() {
            few if few.len() <= MOST_EACH => {
                few.iter().for_each(|one| found.push(finding(facts, one, &[], proposing)));
            }
            [first, ..] => found.push(finding(facts, first, &overlaps, proposing)),
            [] => {}
        }
        spectrum.put(&occupied);
    }
}

/// A finding of two; with it stand all that the second overlaps where these are many.
fn finding(facts: Facts<'_>, one: &Overlap<'_, '_>, all: &[Overlap<'_, '_>], proposing: &mut Proposing<'_>) -> Finding {
    let (second, first, [their, our]) = one;
    let (words, other) = (second.of.words(), first.of.words());
    let what = format!("{words} ({}) and {other} ({}) overlap{}", their.stretch, our.stretch, likewise(all));
    let finding = Finding::new(&RULE, their.sent.frequency.span, what)
        .label("occupies part of the other")
        .and(our.sent.frequency.span, "the other")
        .on_all(second.of.subject())
        .on_all(first.of.subject());
    let finding = naming(finding, all.iter().skip(1).map(|(_, first, _)| first.of.subject()));
    let help = help(facts, first, second, proposing);
    let finding = match help.1 {
        Some(fix) => finding.help(help.0).fix(their.sent.frequency.span, fix),
        None => finding.help(help.0),
    };
    let place = |of: &Transmitter<'_>| facts.plan.places.get(of.relay(facts.plan)?.place()?);
    let beyond = Option::zip(place(&second.of), place(&first.of));
    match beyond.and_then(|(one, other)| beyond_horizon(one, other)) {
        Some((reach, apart)) => finding.note(format!(
            "by the heights of their antennas alone the two reach {} km, and they stand {} km apart; hills are not known here",
            reach.as_metres() / 1000,
            apart.as_metres() / 1000
        )),
        None => finding,
    }
}

/// What to type, by what the plan says already; with the frequency where one alone is in the way of the second.
fn help(
    facts: Facts<'_>,
    first: &Occupier<'_>,
    second: &Occupier<'_>,
    proposing: &mut Proposing<'_>,
) -> (String, Option<String>) {
    let lacking: Vec<String> =
        [second, first].iter().filter(|one| one.spots.is_none()).map(|one| one.of.words()).collect();
    if !lacking.is_empty() {
        let whose = lacking.join(" and ");
        let text = format!(
            "move one of them; where they are worked far apart, write the `range` of {whose}, and the `position` of their places"
        );
        return (text, None);
    }
    match second.of.channel().and_then(|channel| nearest_clean(facts, channel, &RULE, proposing)) {
        Some(nearest) => (
            format!("the ranges that are written meet: write \"{nearest}\", the nearest that no rule speaks against"),
            Some(format!("\"{nearest}\"")),
        ),
        None => ("the ranges that are written meet: move one of them to another frequency, or give it a range that was found to be shorter".to_owned(), None),
    }
}
