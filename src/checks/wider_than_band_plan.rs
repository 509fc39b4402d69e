//! A signal should be no wider than the band plan wants it there.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::Mode;

/// A signal should be no wider than the band plan wants it there.
pub(super) const RULE: Rule = Rule::warning("wider-than-band-plan", "the band plan in the profile", DOC);

const DOC: &str = r#"
Finds: a signal wider than the band plan's limit for the stretch in which it stands. Only profiles whose band plan has widths (`region-1`, `de`) find it.
Costs: lawful, and still a nuisance to all who keep to the plan.

Right: choose a narrower mode, or move to a stretch for this width.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(emission) = facts.emission_of(sender.signal) else { continue };
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        let rows = facts.profile.customs.iter().filter(|row| row.edges.overlaps(&occupied));
        let is_fm = sender.signal.mode.value == Mode::Fm;
        let limits = rows.filter_map(|row| Some((row.fm_width.filter(|_| is_fm).or(row.width)?, row)));
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
