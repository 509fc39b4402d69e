//! A signal should be no wider than the band plan wants it there.

use super::amateur::senders;
use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// A signal should be no wider than the band plan wants it there.
pub(super) const RULE: Rule = Rule {
    name: "wider-than-band-plan",
    severity: Severity::Warning,
    waivable: true,
    source: "the band plan in the profile",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a signal wider than the band plan's limit for the stretch in which it stands. Only profiles whose band plan has widths (`region-1`, `de`) find it.
Costs: lawful, and still a nuisance to all who keep to the plan.

Right: choose a narrower mode, or move to a stretch for this width.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(emission) = facts.emission_of(sender.signal) else { continue };
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        let rows = facts.profile.customs.iter().filter(|row| row.edges.overlaps(&occupied));
        let limits = rows.filter_map(|row| Some((row.width?, row)));
        let Some((most, row)) = limits.min_by_key(|(most, _)| *most) else { continue };
        if emission.width() <= most || facts.profile.band_of(&occupied).is_none() {
            continue;
        }
        let what = format!(
            "{} sends {} wide on {}, where the band plan has {most}",
            sender.words(),
            emission.width(),
            sender.frequency.value
        );
        found.push(
            Finding::new(&RULE, sender.frequency.span, what)
                .label("wider than the plan")
                .note(format!("{}: {} ({})", row.edges, row.use_, row.cite.source))
                .help("choose a narrower mode, or a stretch for this width")
                .on_all(sender.from.subject()),
        );
    }
}
