//! A repeater sends where the band plan has outputs and hears where it has inputs; other stations keep out of both.

use super::Facts;
use super::amateur::senders;
use super::trial::nearest_clean;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::Mode;
use crate::reckon::{End, Fallbacks, Transmission};
use crate::tables::{Custom, PairSide};

/// A repeater sends where the band plan has outputs and hears where it has inputs; other stations keep out of both.
pub(super) const RULE: Rule = Rule::warning(
    "band-plan-side",
    "the rows of the profile; us: voluntary band plan (memory, partly second-hand)",
    DOC,
);

const DOC: &str = r#"
Finds: a repeater with its output in a stretch of inputs or its input in one of outputs, a repeater in a simplex stretch, and an FM simplex channel in a stretch of repeater inputs or outputs, but for the direct fallback on a repeater's own output to which its `next` leads.
Costs: the pair stands across everybody else's, and a simplex net opens a repeater that its stations cannot hear.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.820 MHz"     # band-plan-side
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose a simplex channel of the band plan, `simplex = "146.550 MHz"`. Local coordinators differ: accept it where yours assigned it so.
"#;

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    let fallbacks = Fallbacks::of(facts.plan);
    for sender in senders(facts) {
        if sender.side.is_some() || matches!(sender.signal.mode.value, Mode::Cw | Mode::Ssb | Mode::Am | Mode::Data) {
            continue;
        }
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        // The law speaks first, by findings of its own.
        let is_lawful = !sender.is_repeater() || facts.profile.repeater_may_stand(&occupied);
        if facts.profile.band_of(&occupied).is_none() || !is_lawful {
            continue;
        }
        let own = side_of(&sender);
        let rows = || facts.profile.customs.iter().filter(|row| row.edges.has(sender.frequency.value));
        if rows().any(|row| row.side == Some(own)) {
            continue;
        }
        // A pair whose shift is unusual has a finding of its own.
        let is_unusual = sender.decided_by().is_some_and(|output| {
            let usual = facts.profile.usual_shift(output.value);
            usual.is_some_and(|(_, usual)| output.value.moved(usual) != Some(sender.frequency.value))
        });
        if is_unusual {
            continue;
        }
        // A repeater's direct fallback lies on its output by intent.
        if sender.from.channel().is_some_and(|channel| fallbacks.stands_in_for(channel).is_some()) {
            continue;
        }
        let Some((row, side)) = rows().find_map(|row| Some((row, row.side?))) else { continue };
        let what =
            format!("{} is on {}, where the band plan has {}", sender.words(), sender.frequency.value, words(side));
        let nearest = sender.from.channel().and_then(|channel| nearest_clean(facts, channel, &RULE, proposing));
        let finding = Finding::new(&RULE, sender.frequency.span, what)
            .label(words(side))
            .note(note(row))
            .on_all(sender.from.subject());
        let or = "or accept it where your coordinator assigned it so";
        found.push(match nearest {
            Some(nearest) => finding
                .help(format!("write \"{nearest}\", the nearest that no rule speaks against, {or}"))
                .fix(sender.frequency.span, format!("\"{nearest}\"")),
            None if own == PairSide::Simplex => finding.help(format!("choose a simplex channel, {or}")),
            None => finding.help(format!("turn the pair round, {or}")),
        });
    }
}

/// What the sender is to a repeater pair.
fn side_of(sender: &Transmission<'_>) -> PairSide {
    match sender.end {
        Some(End::Input) => PairSide::Input,
        Some(End::Output) => PairSide::Output,
        // Who hears another frequency than he sends works a repeater, named or not.
        None if sender
            .from
            .channel()
            .is_some_and(|channel| channel.send.is_some_and(|send| *send != *channel.hear)) =>
        {
            PairSide::Input
        }
        None => PairSide::Simplex,
    }
}

const fn words(side: PairSide) -> &'static str {
    match side {
        PairSide::Input => "repeater inputs",
        PairSide::Output => "repeater outputs",
        PairSide::Simplex => "simplex",
    }
}

fn note(row: &Custom) -> String {
    format!("{}: {} ({}, {})", row.edges, row.use_, row.cite.source, row.cite.confidence)
}
