//! A frequency of the plan is not a neighbouring team's.

use super::Facts;
use super::amateur::senders;
use super::overlaps::keep_spacing;
use crate::ground::{Finding, Findings, Id, Rule, Stretch, Subject};
use crate::plan::Neighbour;
use crate::reckon::{Coverage, Transmission, spots_can_meet};

/// A frequency of the plan is not a neighbouring team's.
pub(super) const RULE: Rule =
    Rule::warning("neighbour-on-frequency", "what each emission occupies by 47 CFR 2.202 (necessary bandwidth)", DOC);

const DOC: &str = r#"
Finds: a channel, repeater or gateway that sends where a neighbour hears or sends, unless both have a `range` and a position that keep them apart. Neighbours are `[[neighbour]]` records, or the rows of the file in `neighbours = { file = ..., columns = ... }` of `[plan]`; they are never printed.
Costs: two teams on one frequency on the same night.

Wrong:
```toml
[[neighbour]]
name = "Birch tactical"
team = "Birch County"
output = "146.550 MHz"

[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"     # neighbour-on-frequency
verified = { on = 2026-10-01, by = "qra" }
```
Right: agree with the neighbour, or choose another channel, `simplex = "146.430 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let ends = |neighbour| {
        let ends = Transmission::of_neighbour(facts.plan, neighbour);
        let ends: Vec<_> = ends.filter_map(|end| Some((facts.occupies(&end).ok()?, end))).collect();
        (neighbour, ends)
    };
    let neighbours: Vec<(&Neighbour, Vec<(Stretch, Transmission<'_>)>)> =
        facts.plan.neighbours.iter().map(ends).collect();
    let coverage = Coverage::of(facts.plan);
    for sender in senders(facts) {
        let Ok(ours) = facts.occupies(&sender) else { continue };
        for (neighbour, ends) in &neighbours {
            let is_met = |(stretch, theirs): &&(Stretch, Transmission<'_>)| {
                stretch.overlaps(&ours) && !keep_spacing(facts, &sender, theirs)
            };
            let Some((stretch, theirs)) = ends.iter().find(is_met) else { continue };
            if !spots_can_meet(&sender.heard(&coverage), &theirs.heard(&coverage)) {
                continue;
            }
            let team = neighbour.team.as_ref().map(|team| format!(" of {}", team.value)).unwrap_or_default();
            let tone = neighbour.tone_in.map(|tone| format!(", which opens on {}", tone.value)).unwrap_or_default();
            let what =
                format!("{} sends on {ours}, where {}{team} has {stretch}{tone}", sender.words(), neighbour.name.value);
            found.push(
                Finding::new(&RULE, sender.frequency.span, what)
                    .label("a neighbour is there")
                    .and(theirs.frequency.span, "the neighbour")
                    .help(
                        "agree with the neighbour, choose another channel, or write the `range` and `position` of both",
                    )
                    .on_all(sender.from.subject())
                    .on_all(record(neighbour)),
            );
        }
    }
}

/// A neighbour as a waiver names it: it has no id, so its name stands for one.
fn record(neighbour: &Neighbour) -> Option<Subject> {
    let name = neighbour.name.as_str().to_lowercase();
    let words = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let slug: String = words.collect::<Vec<_>>().join("-").chars().take(Id::LONGEST).collect();
    Some(Subject::new("neighbour", &Id::parse(slug.trim_end_matches('-')).ok()?))
}
