//! What is sent, with its bandwidth, must stay inside an amateur band.

use super::Facts;
use super::amateur::senders;
use super::meant_service::{meant, rows_at};
use super::trial::mended;
use super::trials::Proposing;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::Transmission;
use crate::tables::ServiceChannel;

/// What is sent, with its bandwidth, must stay inside an amateur band.
pub(super) const RULE: Rule =
    Rule::error("transmit-leaves-band", "the rows of the profile; us: 47 CFR 97.301, 97.307(b)", DOC);

const DOC: &str = r#"
Finds: a station, repeater or gateway whose signal, with its whole width and the tolerance of the radios that send it (0 unless the plan says it), is not inside one amateur band.
Costs: someone keys up where no licence gives a privilege.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "147.995 MHz"     # transmit-leaves-band
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `simplex = "147.570 MHz"`: half of 16 kHz to each side stays inside. Where the frequency is a channel of another service, as 151.820 MHz is of MURS, write the `service`.
"#;

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(occupied) = facts.reaches(&sender) else { continue };
        if facts.profile.band_of(&occupied).is_some() {
            continue;
        }
        let Some(band) = facts.profile.nearest_band(sender.frequency.value) else { continue };
        // What a country allots warns, by a rule of its own.
        if facts.profile.allotted_near(sender.frequency.value, &occupied).is_some() {
            continue;
        }
        let what = format!(
            "{} sends on {}, which occupies {occupied}{}, outside the {} band",
            sender.words(),
            sender.frequency.value,
            sender.with_tolerance(),
            band.name
        );
        let finding = Finding::new(&RULE, sender.frequency.span, what).label(format!("puts the signal on {occupied}"));
        let finding = match sender.decided_by() {
            Some(output) if output.span != sender.frequency.span => {
                finding.and(output.span, "shifted from this output")
            }
            _ => finding,
        };
        let finding = finding.on_all(sender.from.subject());
        if let Some(finding) = of_other_service(facts, &sender, &finding, proposing) {
            found.push(finding);
            continue;
        }
        let note = format!("{} runs from {} ({}, {})", band.name, band.edges, band.cite.source, band.cite.confidence);
        let finding = finding.note(note);
        let otherwise = format!("choose a frequency of the {} band, {}", band.name, band.edges);
        found.push(mended(facts, &sender, finding, proposing, otherwise));
    }
}

/// The finding where the frequency is another service's channel: the service was forgotten, and the frequency is right.
fn of_other_service(
    facts: Facts<'_>,
    sender: &Transmission<'_>,
    finding: &Finding,
    proposing: &mut Proposing<'_>,
) -> Option<Finding> {
    let said = |row: &ServiceChannel| {
        let name = facts.profile.service(&row.service).map_or(row.service.as_str(), |service| service.name.as_str());
        let note = format!("it is {} of the {name} service ({})", row.name, row.cite.source);
        finding.clone().note(note)
    };
    if let Some(channel) = sender.from.channel() {
        let meant = meant(facts, channel, &RULE, proposing)?;
        let finding = said(meant.row).help(meant.help);
        return Some(match meant.fix {
            Some((span, text)) => finding.fix(span, text),
            None => finding,
        });
    }
    let repeater = sender.from.repeater()?;
    let rows = rows_at(facts, repeater.output.value, (*repeater.input)?.value);
    let row = rows.first()?;
    Some(said(row).help(format!("write `service = \"{}\"` in the repeater", row.service)))
}
