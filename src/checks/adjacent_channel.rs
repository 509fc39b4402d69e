//! Two FM signals that can meet lie a channel apart.

use super::{Check, Facts};
use crate::ground::{At, Finding, Findings, Frequency, Rule, Severity, Stretch, Subject, Width};
use crate::plan::{Channel, Mode, Route, Signal, subject};
use crate::reckon::{Spots, heard, spots_can_meet, spots_of};
use crate::tables::Raster;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Two FM signals that can meet lie a channel apart.
pub(super) const RULE: Rule = Rule {
    name: "adjacent-channel",
    severity: Severity::Warning,
    waivable: true,
    source: "the rows of the profile: channel spacing of the band plan, common practice, no source",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two channels, repeater outputs or inputs, or gateways that do not overlap but whose middles lie closer than the spacing of the band, unless a `range` keeps them apart.
Costs: a strong station on the one is heard as crackle on the other, most of all where both are worked in one room.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.5625 MHz"    # adjacent-channel
width = "narrow"
verified = { on = 2026-10-01, by = "qra" }
```
Right: keep to the spacing of the band plan, `simplex = "146.5650 MHz"`.
"#;

/// What something is sent on, and how far from it the next should lie.
pub(super) struct Sent<'a> {
    at: At<Frequency>,
    stretch: Stretch,
    /// `channel TAC 1`, `the output of repeater Fern`.
    words: String,
    on: Subject,
    /// Where it is heard.
    spots: Spots<'a>,
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
    let channels = facts.plan.channels.iter().filter_map(|channel| sent(facts, channel));
    let mut all: Vec<Sent<'_>> = channels.chain(relayed(facts)).collect();
    all.sort_by(|a, b| (a.at.value, &a.on).cmp(&(b.at.value, &b.on)));
    for (index, lower) in all.iter().enumerate() {
        let Some((row, spacing)) = lower.spacing.and_then(|row| Some((row, row.spacing?))) else { continue };
        let near = all.iter().skip(index + 1);
        let near = near.take_while(|upper| (upper.at.value - lower.at.value).size() < spacing.as_hertz());
        for upper in near.filter(|upper| lower.is_too_near(upper)) {
            if lower.on == upper.on || !spots_can_meet(&lower.spots, &upper.spots) {
                continue;
            }
            let what = format!(
                "{} and {} lie {} apart, where the spacing is {spacing}",
                lower.words,
                upper.words,
                Width::hertz((upper.at.value - lower.at.value).size())
            );
            found.push(
                Finding::new(&RULE, upper.at.span, what)
                    .label("too near to the other")
                    .and(lower.at.span, "the other")
                    .note(format!("{} ({})", row.cite.source, row.cite.confidence))
                    .help("move one of them, or write the `range` of both where they are worked far apart")
                    .on(upper.on.clone())
                    .on(lower.on.clone()),
            );
        }
    }
}

/// What a channel sends on FM without a repeater or gateway between.
pub(super) fn sent<'a>(facts: Facts<'a>, channel: &'a Channel) -> Option<Sent<'a>> {
    let is_direct = matches!(channel.route, Route::Simplex | Route::Split);
    let at = channel.send.filter(|_| is_direct && is_spaced(&channel.signal))?;
    let words = format!("channel {}", channel.name.value);
    one(facts, at, &channel.signal, (words, subject(channel), spots_of(facts.plan, channel)))
}

/// What repeaters and gateways send, and what is sent to them.
fn relayed(facts: Facts<'_>) -> impl Iterator<Item = Sent<'_>> {
    let repeaters = facts.plan.repeaters.iter().filter(|repeater| is_spaced(&repeater.signal));
    let repeaters = repeaters.flat_map(move |repeater| {
        [("output", repeater.output), ("input", *repeater.input)].into_iter().filter_map(move |(which, at)| {
            let words = format!("the {which} of repeater {}", repeater.name.value);
            let spots = heard(facts.plan, repeater).map(|spot| vec![spot]);
            one(facts, at, &repeater.signal, (words, subject(repeater), spots))
        })
    });
    let gateways = facts.plan.gateways.iter().filter(|gateway| is_spaced(&gateway.signal));
    let gateways = gateways.filter_map(move |gateway| {
        let words = format!("gateway {}", gateway.name.value);
        one(facts, gateway.frequency, &gateway.signal, (words, subject(gateway), None))
    });
    repeaters.chain(gateways)
}

/// Spacing is a custom of FM and of data on FM.
fn is_spaced(signal: &Signal) -> bool {
    matches!(signal.mode.value, Mode::Fm | Mode::Data)
}

fn one<'a>(
    facts: Facts<'a>,
    at: At<Frequency>,
    signal: &Signal,
    (words, on, spots): (String, Subject, Spots<'a>),
) -> Option<Sent<'a>> {
    let stretch = facts.occupied_by(at.value, signal, None).ok()?;
    let spacing = facts.profile.rasters.iter().find(|row| row.edges.has(at.value));
    Some(Sent { at, stretch, words, on, spots, spacing })
}
