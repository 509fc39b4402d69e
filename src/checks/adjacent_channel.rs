//! Two FM channels that can meet lie a channel apart.

use super::{Check, Facts};
use crate::ground::{At, Finding, Findings, Frequency, Rule, Severity, Stretch};
use crate::plan::{Channel, Mode, Route, subject};
use crate::reckon::{occupied_by, spots_can_meet, spots_of};
use crate::tables::Raster;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Two FM channels that can meet lie a channel apart.
pub(super) const RULE: Rule = Rule {
    name: "adjacent-channel",
    severity: Severity::Warning,
    waivable: true,
    source: "the rows of the profile: channel spacing of the band plan, common practice, no source",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two channels that do not overlap but whose middles lie closer than the spacing of the band, unless a `range` keeps them apart.
Costs: a strong station on the one is heard as crackle on the other, most of all where both are worked in one room.

Wrong:
```toml
[[channel]]
id = "tac-1"
slot = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
slot = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.5625 MHz"    # adjacent-channel
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }
```
Right: keep to the spacing of the band plan, `simplex = "146.5650 MHz"`.
"#;

/// What one channel sends on directly, and how far from it the next one should lie.
pub(super) struct Sent<'a> {
    at: At<Frequency>,
    stretch: Stretch,
    channel: &'a Channel,
    spacing: Option<&'a Raster>,
}

impl Sent<'_> {
    /// Whether this one, the lower, lies too near to a higher one. What overlaps, or stands on one frequency, has a finding of its own.
    pub(super) fn is_too_near(&self, upper: &Sent<'_>) -> bool {
        let spacing = self.spacing.and_then(|row| row.spacing).map_or(0, |spacing| spacing.as_hertz());
        let apart = (upper.at.value - self.at.value).size();
        apart > 0 && apart < spacing && !self.stretch.overlaps(&upper.stretch)
    }

    /// Whether one of two lies too near to the other.
    pub(super) fn are_adjacent(&self, other: &Sent<'_>) -> bool {
        if self.at.value < other.at.value { self.is_too_near(other) } else { other.is_too_near(self) }
    }
}

fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut all: Vec<Sent<'_>> = facts.plan.channels.iter().filter_map(|channel| sent(facts, channel)).collect();
    all.sort_by_key(|sent| (sent.at.value, &sent.channel.id.value));
    for (index, lower) in all.iter().enumerate() {
        let Some((row, spacing)) = lower.spacing.and_then(|row| Some((row, row.spacing?))) else { continue };
        let near = all.iter().skip(index + 1);
        let near = near.take_while(|upper| (upper.at.value - lower.at.value).size() < spacing.as_hertz());
        for upper in near.filter(|upper| lower.is_too_near(upper)) {
            if !spots_can_meet(&spots_of(facts.plan, lower.channel), &spots_of(facts.plan, upper.channel)) {
                continue;
            }
            let what = format!(
                "channels {} and {} lie {} kHz apart, where the spacing is {spacing}",
                lower.channel.name.value,
                upper.channel.name.value,
                (upper.at.value - lower.at.value).size() / 1000
            );
            found.push(
                Finding::new(&RULE, upper.at.span, what)
                    .label("too near to the other")
                    .and(lower.at.span, "the other channel")
                    .note(format!("{} ({})", row.cite.source, row.cite.confidence))
                    .help("move one of them, or write the `range` of both where they are worked far apart")
                    .on(subject(upper.channel))
                    .on(subject(lower.channel)),
            );
        }
    }
}

/// What a channel sends on FM without a repeater or gateway between.
pub(super) fn sent<'a>(facts: Facts<'a>, channel: &'a Channel) -> Option<Sent<'a>> {
    let is_direct = matches!(channel.route, Route::Simplex | Route::Split);
    let at = channel.send.filter(|_| is_direct && matches!(channel.signal.mode.value, Mode::Fm | Mode::Data))?;
    let stretch = occupied_by(at.value, &channel.signal, None, &facts.tables.modes)?;
    let spacing = facts.profile.rasters.iter().find(|row| row.edges.has(at.value));
    Some(Sent { at, stretch, channel, spacing })
}
