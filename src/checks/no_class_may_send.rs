//! What is sent must be open to some class of licence.

use super::Facts;
use super::amateur::senders;
use super::trial::first_clean;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Frequency, Rule, Shift, Stretch};
use crate::plan::Mode;
use crate::reckon::{Transmission, may_send};
use crate::tables::EmissionType;
use std::collections::BTreeSet;

/// What is sent must be open to some class of licence.
pub(super) const RULE: Rule = Rule {
    since: "0.2.0",
    ..Rule::error("no-class-may-send", "the rows of the profile; us: 47 CFR 97.301, 97.305", DOC)
};

const DOC: &str = r#"
Finds: a channel, repeater or gateway inside a band that sends what the law opens to no class of licence there: voice where only CW and data are allowed, or anything between the channels of 60 m.
Costs: whoever keys up breaks the law, and no member that joins the team later can mend it.

Wrong:
```toml
[[channel]]
id = "hf-75"
row = 2
name = "HF 75"
spoken = "Seventy Five"
dial = "3600.0 kHz"         # no-class-may-send
side = "LSB"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `dial = "3602.8 kHz"` or above: the lower sideband reaches down from the dial, and voice begins at 3600 kHz.
"#;

/// Further away it would be another channel altogether, in hertz.
const MOST_AWAY: u64 = 3_000_000;

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let (Ok(occupied), Ok(reaches)) = (facts.occupies(&sender), facts.reaches(&sender)) else { continue };
        // Outside every band, or where no repeater may stand, is a finding of its own.
        let is_elsewhere = sender.is_repeater() && !facts.profile.repeater_may_stand(&occupied);
        let Some(band) = facts.profile.band_of(&reaches) else { continue };
        // What a country allots warns, by a rule of its own.
        if is_elsewhere || facts.profile.allotted(band).next().is_some() || is_open(facts, &sender) {
            continue;
        }
        let Ok(emission) = facts.emission_of(sender.signal) else { continue };
        let kind = emission.emission_type();
        let what = format!(
            "{} sends {} on {}, which occupies {occupied}{}: no class of licence may send that there",
            sender.words(),
            kind.term(),
            sender.frequency.value,
            sender.with_tolerance()
        );
        let finding = Finding::new(&RULE, sender.frequency.span, what).label("open to no class");
        let finding = match sender.decided_by() {
            Some(output) if output.span != sender.frequency.span => {
                finding.and(output.span, "shifted from this output")
            }
            _ => finding,
        };
        let open = near(facts, proposing, (&sender, &occupied));
        let finding = match (limit(facts, &reaches, kind), open.first()) {
            (Some(limit), Some(nearest)) => {
                finding.note(format!("{limit}; the nearest for this signal is {}", dialled(&sender, *nearest)))
            }
            (Some(limit), None) => finding.note(limit),
            (None, _) => finding,
        };
        let clean =
            sender.from.channel().and_then(|channel| first_clean(facts, channel, &RULE, proposing, open.into_iter()));
        let finding = finding.on_all(sender.from.subject());
        found.push(match clean {
            Some(clean) => finding.write(dialled(&sender, clean)),
            None => finding,
        });
    }
}

/// As the key of the sender is written: kilohertz on an HF dial.
fn dialled(sender: &Transmission<'_>, frequency: Frequency) -> String {
    if sender.side.is_some() { format!("{} kHz", frequency.to_khz()) } else { frequency.to_string() }
}

/// Whether some class may send it.
fn is_open(facts: Facts<'_>, sender: &Transmission<'_>) -> bool {
    let sent = sender.sent();
    facts.profile.classes.iter().any(|class| may_send(facts.tables, facts.profile, class, &sent).is_ok())
}

/// What the law opens nearest, in a sentence with its source: to this type of emission where the frequency itself is open to a
/// class, else at all.
fn limit(facts: Facts<'_>, reaches: &Stretch, kind: EmissionType) -> Option<String> {
    let profile = facts.profile;
    let is_held = |class: &str| {
        let rows = profile.privileges.iter().filter(|row| row.classes.iter().any(|id| id == class));
        Stretch::are_covering(rows.map(|row| row.edges), reaches)
    };
    let far = |edges: &Stretch| edges.distance(reaches.low()).max(edges.distance(reaches.high()));
    if profile.classes.iter().any(|class| is_held(&class.id)) {
        let rows = profile.emissions.iter().filter(|row| row.types.contains(&kind));
        let near = rows.min_by_key(|row| far(&row.edges))?;
        return Some(format!("{} is open from {} ({})", kind.term(), near.edges, near.cite.source));
    }
    let near = profile.privileges.iter().min_by_key(|row| far(&row.edges))?;
    Some(format!("the nearest that any class may use runs from {} ({})", near.edges, near.cite.source))
}

/// Frequencies on which some class may send this signal and the band plan has nothing against it, the nearest first: where it
/// would begin or end at an edge of a row. None for a repeater: its pair moves together.
fn near(
    facts: Facts<'_>,
    proposing: &Proposing<'_>,
    (sender, occupied): (&Transmission<'_>, &Stretch),
) -> Vec<Frequency> {
    if sender.is_repeater() || !proposing.may_try() {
        return Vec::new();
    }
    let profile = facts.profile;
    let dial = sender.frequency.value;
    let mut candidates: BTreeSet<(u64, Frequency)> = BTreeSet::new();
    let mut add = |to: Option<Frequency>| candidates.extend(to.map(|to| ((to - dial).size(), to)));
    let laws = profile.privileges.iter().map(|row| row.edges).chain(profile.emissions.iter().map(|row| row.edges));
    for edges in laws.chain(profile.customs.iter().map(|row| row.edges)) {
        let off = sender.tolerance().at(edges.high());
        let up = (edges.low() - occupied.low()).as_hertz() + off;
        let down = (edges.high() - occupied.high()).as_hertz() - off;
        for to in [up, down].into_iter().filter_map(|shift| dial.moved(Shift::hertz(shift))) {
            match profile.rasters.iter().find(|row| row.edges.has(to)).map(|row| row.step.as_hertz().max(1)) {
                Some(step) => {
                    let below = to.as_hertz() / step * step;
                    [below, below + step].into_iter().for_each(|at| add(Frequency::hertz(at)));
                }
                None => add(Some(to)),
            }
        }
    }
    for row in &profile.privileges {
        row.dials().into_iter().for_each(|below| add(row.centre.and_then(|centre| centre.moved(Shift::hertz(-below)))));
    }
    let near = candidates.into_iter().take_while(|(far, _)| *far <= MOST_AWAY).map(|(_, to)| to);
    near.filter(|to| is_free(facts, &sender.moved(*to))).collect()
}

/// Whether neither the law nor the band plan has anything against it.
fn is_free(facts: Facts<'_>, sender: &Transmission<'_>) -> bool {
    let profile = facts.profile;
    let (Ok(occupied), Ok(reaches)) = (facts.occupies(sender), facts.reaches(sender)) else { return false };
    let is_advised = sender.side.is_none() && !matches!(sender.signal.mode.value, Mode::Cw | Mode::Ssb);
    let is_kept = is_advised
        && profile.customs.iter().any(|row| {
            (row.is_without_fm || row.is_without_voice || row.side.is_some()) && row.edges.overlaps(&occupied)
        });
    let is_inside = profile.band_of(&reaches).is_some();
    is_inside && !is_kept && profile.calling(sender.frequency.value).is_none() && is_open(facts, sender)
}
