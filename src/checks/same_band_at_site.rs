//! Two radios of one band at one place have antennas that keep them apart.

use super::{Check, Facts};
use crate::ground::{Distance, Finding, Findings, Power, Rule, Severity};
use crate::plan::{Antenna, Place, subject};
use crate::reckon::{DIPOLE, Site, SiteEnd, Standing, isolation, needed_isolation, stacked_distance};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Two radios of one band at one place have antennas that keep them apart.
pub(super) const RULE: Rule = Rule {
    name: "same-band-at-site",
    severity: Severity::Warning,
    waivable: true,
    source: "isolation of antennas: 22 + 20 log(d / lambda) side by side, 28 + 40 log(d / lambda) stacked; a receiver blocks near -25 dBm (common practice, no source)",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a place where people send on one channel and listen on another of the same band at the same time, while the plan shows less isolation of the antennas than the power asks, or no distance at all.
Costs: each radio deafens the other; the operator turns one down and misses the net.

Wrong:
```toml
[[place]]
id = "hq"
code = "HQX"
tactical = "Headquarters"
kind = "operations-centre"
visited-on = 2026-10-04
monitors = ["tac-1", "tac-2"]   # same-band-at-site

[[channel]]
id = "tac-1"
slot = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.430 MHz"
power = "25 W"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
slot = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "147.570 MHz"
power = "25 W"
verified = { on = 2026-10-01, by = "qra" }
```
Right: use another band for one of them, let them take turns with `turns = [["tac-1", "tac-2"]]`, or give the antennas' `spacing` with the `channels` of each.
"#;

/// What a station is taken to send with where its channel does not say: a mobile radio of the trade.
const USUAL: Power = Power::milliwatts(50_000);

fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Ok(site) = facts.site(place) else { continue };
        for (index, sender) in site.senders.iter().enumerate() {
            let worst = site.receivers.iter().filter(|receiver| is_beside(facts, &site, sender, receiver));
            // Each pair once: the other way round it is the same two antennas.
            let seen =
                |receiver: &&SiteEnd| site.senders.iter().take(index).all(|earlier| earlier.name != receiver.name);
            for receiver in worst.filter(seen) {
                look(place, sender, receiver, found);
            }
        }
    }
}

/// Whether two people work at once in one band here. What stands at a repeater site has filters of its own.
fn is_beside(facts: Facts<'_>, site: &Site, sender: &SiteEnd, receiver: &SiteEnd) -> bool {
    let are_worked = sender.channel.is_some() && receiver.channel.is_some() && sender.channel != receiver.channel;
    let band =
        |end: &SiteEnd| facts.profile.bands.iter().find(|band| band.edges.has(end.signal.at)).map(|band| &band.id);
    are_worked && band(sender).is_some() && band(sender) == band(receiver) && !site.take_turns(sender, receiver)
}

fn look(place: &Place, sender: &SiteEnd, receiver: &SiteEnd, found: &mut Findings) {
    let power = sender.power.unwrap_or(USUAL);
    let needed = needed_isolation(power);
    let shown = shown(place, sender, receiver);
    if shown.is_some_and(|shown| shown >= needed) {
        return;
    }
    let has = shown
        .map_or_else(|| "no distance is written".to_owned(), |shown| format!("about {} are shown", decibels(shown)));
    let what = format!(
        "at {} {} with {power} and {} work at once in one band: about {} of isolation are needed, {has}",
        place.tactical.value,
        sender.name,
        receiver.name,
        decibels(needed)
    );
    let stacked = Distance::metres((stacked_distance(needed, sender.signal.at) + 99) / 100).as_metres();
    let finding = Finding::new(&RULE, receiver.span, what)
        .label("listens there")
        .and(sender.span, "while this one sends")
        .note("an estimate from distance alone; noise of the transmitter near its frequency asks for more")
        .help(format!(
            "another band for one of them, antennas stacked {stacked} m apart, a filter, or `turns` for the two"
        ))
        .on(subject(place));
    found.push(sender.subject.iter().chain(&receiver.subject).fold(finding, |finding, on| finding.on(on.clone())));
}

/// The isolation that the plan shows between the antennas of two channels, in tenths of a decibel.
fn shown(place: &Place, sender: &SiteEnd, receiver: &SiteEnd) -> Option<i32> {
    let antenna = |end: &SiteEnd| {
        let uses = |antenna: &&Antenna| antenna.channels.iter().any(|id| Some(&id.value) == end.channel.as_ref());
        place.antennas.iter().find(uses)
    };
    let (one, other) = (antenna(sender)?, antenna(receiver)?);
    let is_between = |spacing: &&crate::plan::Spacing| {
        [one, other].iter().all(|antenna| spacing.of.iter().any(|id| id.value == antenna.id.value))
    };
    let spacing = place.spacings.iter().find(is_between)?;
    let standing = if spacing.is_stacked { Standing::Stacked } else { Standing::SideBySide };
    let gain = |antenna: &Antenna| antenna.gain.map_or(DIPOLE, |gain| gain.value.as_hundredths() / 10);
    let gains = gain(one) + gain(other);
    Some(isolation(standing, spacing.distance.value.as_centimetres(), sender.signal.at, gains))
}

fn decibels(tenths: i32) -> String {
    format!("{} dB", (tenths + 5) / 10)
}
