//! FM and FM data keep out of what the band plan sets aside for weak signals and satellites.

use super::Facts;
use super::amateur::senders;
use super::trial::mended;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Frequency, Rule, Stretch};
use crate::plan::{GatewayKind, Mode};
use crate::reckon::{Transmission, Transmitter};
use crate::tables::Custom;

/// FM and FM data keep out of what the band plan sets aside for weak signals and satellites.
pub(super) const RULE: Rule = Rule::warning("band-plan-segment", "the voluntary band plan in the profile", DOC);

const DOC: &str = r#"
Finds: a channel, repeater or gateway on FM in a stretch of the band plan for weak signals, beacons or satellites, and voice in one for packet, a mailbox or node in one for position reports; but for what a narrower stretch inside it is for, as position reports on 144.390 MHz, and on an edge that another stretch claims too.
Costs: the team disturbs people who cannot be heard by it, and makes no friends for the night when it asks them to keep clear.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "145.900 MHz"     # band-plan-segment
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose an FM simplex channel, `simplex = "146.550 MHz"`.
"#;

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        if sender.side.is_some() || matches!(sender.signal.mode.value, Mode::Cw | Mode::Ssb) {
            continue;
        }
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        // The law speaks first, by findings of its own.
        let is_lawful = !sender.is_repeater() || facts.profile.repeater_may_stand(&occupied);
        if facts.profile.band_of(&occupied).is_none() || !is_lawful {
            continue;
        }
        let is_voice = !matches!(sender.signal.mode.value, Mode::Data | Mode::Dsc);
        let rows = &facts.profile.customs;
        let is_mailbox = is_mailbox(&sender);
        let is_kept = |row: &&Custom| {
            row.is_without_fm || (row.is_without_voice && is_voice) || (row.is_without_mailboxes && is_mailbox)
        };
        let is_admitted = |kept: &Custom| {
            rows.iter().filter(|row| !is_kept(row)).any(|row| admits(row, kept, sender.frequency.value, &occupied))
        };
        let set_aside = rows.iter().filter(is_kept).filter(|row| row.edges.overlaps(&occupied));
        // Of stretches inside each other the narrowest says what the frequency is for.
        let set_aside = set_aside.filter(|row| !is_admitted(row));
        let narrowest = set_aside.min_by_key(|row| (row.edges.high() - row.edges.low()).size());
        let Some(custom) = narrowest else { continue };
        let (sends, otherwise) = match (custom.is_without_fm, custom.is_without_voice && is_voice) {
            (true, _) => ("FM", "a stretch for FM"),
            (_, true) => ("voice", "a stretch for voice"),
            (..) => ("a mailbox's or node's traffic", "a stretch for packet"),
        };
        let what = format!(
            "{} sends {sends} on {}, which the band plan keeps for {}",
            sender.words(),
            sender.frequency.value,
            custom.use_
        );
        let finding = Finding::new(&RULE, sender.frequency.span, what)
            .label("set aside")
            .note(format!("{} ({})", custom.edges, custom.cite.source))
            .on_all(sender.from.subject());
        found.push(mended(facts, &sender, finding, proposing, format!("move it to {otherwise}")));
    }
}

/// Whether messages wait there, or are passed on: nothing that is as short as a report.
fn is_mailbox(sender: &Transmission<'_>) -> bool {
    let Transmitter::Gateway(gateway) = sender.from else { return false };
    gateway.kind.is_some_and(|kind| matches!(kind.value, GatewayKind::Mailbox | GatewayKind::Node))
}

/// Whether a row takes a signal out of what another keeps: one inside that, made for such signals, or the one beyond an edge that
/// both claim.
fn admits(row: &Custom, kept: &Custom, at: Frequency, occupied: &Stretch) -> bool {
    let is_inside = row.edges.holds(occupied) && kept.edges.holds(&row.edges) && row.edges != kept.edges;
    let is_on_edge = [kept.edges.low(), kept.edges.high()].contains(&at) && row.edges.has(at);
    is_inside || is_on_edge
}
