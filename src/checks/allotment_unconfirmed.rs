//! Who uses a band as a country allots it, by rows that nobody has read in the regulation itself, is told to look.

use super::Facts;
use super::allotment_exceeded::said;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule, Severity, Stretch};
use crate::reckon::Transmission;
use crate::tables::Allowance;

/// Who uses a band as a country allots it, by rows that nobody has read in the regulation itself, is told to look.
pub(super) const RULE: Rule = Rule {
    severity: Severity::Note,
    ..Rule::warning(
        "allotment-unconfirmed",
        "the rows of the profile for the plan's country (second-hand, memory)",
        DOC,
    )
};

const DOC: &str = r#"
Finds: a band (630 m, 60 m, 6 m, 4 m) that the plan uses as the country of its `region` allots it by rows that are second-hand or from memory; once for each band.
Costs: what was right when the row was written may have changed.

Right: compare with the current licence; nothing to type.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for band in &facts.profile.bands {
        let pieces: Vec<&Allowance> = facts.profile.allotted(band).collect();
        if pieces.is_empty() {
            continue;
        }
        let inside = |sender: &Transmission<'_>| {
            let reaches = facts.reaches(sender);
            reaches.is_ok_and(|reaches| Stretch::are_covering(pieces.iter().map(|piece| piece.edges), &reaches))
        };
        let mut there = senders(facts).filter(inside);
        let Some(first) = there.next() else { continue };
        let Some(piece) = pieces.iter().find(|piece| piece.edges.has(first.frequency.value)) else { continue };
        let more = match there.count() {
            0 => String::new(),
            more => format!(", as {more} more do"),
        };
        let what = format!("{} uses the {} band as {} allots it{more}", first.words(), band.name, piece.country);
        found.push(
            Finding::new(&RULE, first.frequency.span, what)
                .label(format!("allotted: {}", piece.edges))
                .note(format!("{}{}", piece.edges, said(piece)))
                .help("confirm with the current licence")
                .on_all(first.from.subject()),
        );
    }
}
