//! What a country allots of a band, by rows that nobody has read in the regulation itself, warns.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule, Stretch};
use crate::reckon::Transmission;
use crate::tables::{Allowance, PowerMeasure};

/// What a country allots of a band, by rows that nobody has read in the regulation itself, warns.
pub(super) const RULE: Rule =
    Rule::warning("allotment-exceeded", "the rows of the profile for the plan's country (second-hand, memory)", DOC);

const DOC: &str = r#"
Finds: a station outside what the country of the plan's `region` allots of a band (630 m, 60 m, 6 m, 4 m), or with more power. The rows are second-hand and may be old, so that this warns.
Costs: if the row is right, someone keys up where no licence gives a privilege.

Right: compare with the current licence; then choose a frequency of the allotment, or accept this with the licence as the reason.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(reaches) = facts.reaches(&sender) else { continue };
        let Some((band, pieces)) = facts.profile.allotted_near(sender.frequency.value, &reaches) else { continue };
        if Stretch::are_covering(pieces.iter().map(|piece| piece.edges), &reaches) {
            found.extend(too_strong(&sender, &pieces, &reaches));
            continue;
        }
        let at = sender.frequency.value;
        let far = |piece: &&&Allowance| piece.edges.distance(at).max(0);
        let Some(nearest) = pieces.iter().min_by_key(far) else { continue };
        let what = format!(
            "{} sends on {at}, which occupies {reaches}{}, outside what {} allots of the {} band",
            sender.words(),
            sender.with_tolerance(),
            nearest.country,
            band.name
        );
        found.push(
            Finding::new(&RULE, sender.frequency.span, what)
                .label("not allotted by our rows")
                .note(format!("the nearest is {}{}", nearest.edges, said(nearest)))
                .help("confirm with the current licence, then accept this, or choose a frequency of the allotment")
                .on_all(sender.from.subject()),
        );
    }
}

fn too_strong(sender: &Transmission<'_>, pieces: &[&Allowance], reaches: &Stretch) -> Option<Finding> {
    let power = sender.power()?;
    let limits = pieces.iter().filter(|piece| piece.edges.overlaps(reaches));
    let limits = limits.filter_map(|piece| Some((piece.most?, piece)));
    let (most, piece) = limits.min_by_key(|(most, _)| most.power).filter(|(most, _)| power.value > most.power)?;
    let measure = match most.measure {
        PowerMeasure::Output => "transmitter output",
        PowerMeasure::Erp => "ERP",
    };
    let what = format!(
        "{} allows {} on {}, over the {} {measure} that {} allots there",
        sender.from.words(),
        power.value,
        sender.frequency.value,
        most.power,
        piece.country
    );
    let finding = Finding::new(&RULE, power.span, what)
        .label("more than our rows allot")
        .note(format!("{}{}", piece.edges, said(piece)))
        .help("confirm with the current licence, then accept this, or write less");
    Some(finding.on_all(sender.from.subject()))
}

/// What a row says beside its figures, and where it is from.
pub(super) fn said(piece: &Allowance) -> String {
    let note = piece.note.as_ref().map_or_else(String::new, |note| format!(", {note}"));
    format!("{note} ({}, {})", piece.cite.source, piece.cite.confidence)
}
