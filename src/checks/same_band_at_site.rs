//! Two radios of one band at one place have antennas that keep them apart.

use super::{Check, Facts};
use crate::ground::{Distance, Finding, Findings, Rule, Severity};
use crate::plan::{Place, subject};
use crate::reckon::{Kept, Keyed, Pair, decibels_needed, decibels_shown, pairs, stacked_distance};

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
Finds: a place where one radio sends while another of the same band listens, and the plan shows less isolation between them than the power asks, or none: channels that the place `monitors` or that posts there work, repeaters, gateways and links that stand there. A repeater's output against its own input is its duplexer's business. Channels of one net, and those that take turns, are not at work at once; what keys by itself takes no turns.
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
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.430 MHz"
power = "25 W"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "147.570 MHz"
power = "25 W"
verified = { on = 2026-10-01, by = "qra" }
```
Right: use another band for one of them, let them take turns with `turns = [["tac-1", "tac-2"]]`, or give the antennas' `spacing` with the `channels`, `repeaters` and `gateways` of each: a `distance`, or the `isolation` that was measured with the `filter` in words.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Ok(site) = facts.site(place) else { continue };
        for pair in pairs(&site, place, facts.profile) {
            look(place, &pair, found);
        }
    }
}

fn look(place: &Place, pair: &Pair<'_>, found: &mut Findings) {
    let (sender, receiver) = (pair.sender, pair.receiver);
    let Some(missing) = pair.missing() else { return };
    let has = match pair.shown {
        Kept::Nothing => "no distance is written".to_owned(),
        Kept::Reckoned(tenths) => format!("about {} are shown", decibels_shown(tenths)),
        Kept::Measured(tenths) => format!("{} were measured", decibels_shown(tenths)),
    };
    let taken = if pair.is_power_written { "" } else { ", which are taken since none is written," };
    let what = format!(
        "at {} {} with {}{taken} and {} work at once in one band: about {} of isolation are needed, {has}",
        place.tactical.value,
        sender.name,
        pair.power,
        receiver.name,
        decibels_needed(pair.needed)
    );
    let stacked = Distance::metres((stacked_distance(pair.needed, sender.signal.at) + 99) / 100).as_metres();
    let are_hands = [sender, receiver].iter().all(|end| end.keyed != Keyed::Itself);
    let turns = if are_hands { ", or `turns` for the two" } else { "" };
    let help = match pair.shown {
        Kept::Nothing => format!(
            "write what was measured, `spacing = [{{ of = [\"low\", \"high\"], isolation = \"{}\" }}]`, or the distance of the antennas ({stacked} m one above the other is enough){turns}",
            decibels_needed(pair.needed)
        ),
        _ => format!(
            "another {} are asked of a filter, or antennas stacked {stacked} m apart{turns}",
            decibels_needed(missing)
        ),
    };
    let finding = Finding::new(&RULE, receiver.span, what)
        .label("listens there")
        .and(sender.span, "while this one sends")
        .note("an estimate; noise of the transmitter near its frequency asks for more")
        .help(help)
        .on(subject(place));
    let finding = pair.shown_at.into_iter().fold(finding, |finding, span| finding.and(span, "what is shown"));
    found.push(sender.subject.iter().chain(&receiver.subject).fold(finding, |finding, on| finding.on(on.clone())));
}
