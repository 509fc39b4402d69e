//! Two radios of one band at one place have antennas that keep them apart.

use super::Facts;
use crate::ground::{Distance, Finding, Findings, Id, Rule, Subject, plural};
use crate::plan::{Place, subject};
use crate::reckon::{Kept, Keyed, Pair, PostRadios, SiteEnd, decibels_needed, decibels_shown, pairs, stacked_distance};
use std::collections::BTreeMap;

/// Two radios of one band at one place have antennas that keep them apart.
pub(super) const RULE: Rule = Rule::warning(
    "same-band-at-site",
    "isolation of antennas: 22 + 20 log(d / lambda) side by side, 28 + 40 log(d / lambda) stacked; a receiver blocks near -25 dBm (common practice, no source)",
    DOC,
);

const DOC: &str = r#"
Finds: a place where one radio sends while another listens less than a tenth of the frequency away or in the same band, whatever their services, and the plan shows less isolation between them than the power asks, or none: channels that the place `monitors` or that posts there work, repeaters, gateways and links that stand there. A repeater's output against its own input is its duplexer's business. Channels of one net, and those that take turns, are not at work at once, nor those of one post whose people have one radio for them; what keys by itself takes no turns. Of a radio that more than eight others deafen one finding tells: of the worst, and how many more.
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

/// Most senders that a receiver has a finding of its own for: more are one finding, or a crowded site would have one for each two.
const MOST_EACH: usize = 8;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let post_radios = PostRadios::of(facts.plan);
    for place in facts.plan.places.iter() {
        let Ok(site) = facts.site(place) else { continue };
        let is_one_radio = |pair: &Pair<'_>| post_radios.work_in_turn(place, pair.sender, pair.receiver);
        let lacking: Vec<Pair<'_>> = pairs(&site, place, facts.profile)
            .into_iter()
            .filter(|pair| pair.missing().is_some() && !is_one_radio(pair))
            .collect();
        let mut of_receiver: BTreeMap<&[Subject], Vec<&Pair<'_>>> = BTreeMap::new();
        for pair in &lacking {
            of_receiver.entry(pair.receiver.subject.as_slice()).or_default().push(pair);
        }
        for pairs in of_receiver.into_values() {
            match pairs.as_slice() {
                few if few.len() <= MOST_EACH => few.iter().for_each(|pair| found.push(finding(place, pair, &[]))),
                many => {
                    // The first of those of which most is missing.
                    let Some(worst) = many.iter().rev().max_by_key(|pair| pair.missing()) else { continue };
                    found.push(finding(place, worst, many));
                }
            }
        }
    }
}

/// A finding of a pair; with it stand all others of its receiver where these are many.
fn finding(place: &Place, pair: &Pair<'_>, all: &[&Pair<'_>]) -> Finding {
    let (sender, receiver) = (pair.sender, pair.receiver);
    let missing = pair.missing().unwrap_or_default();
    let has = match pair.shown {
        Kept::Nothing => "no distance is written".to_owned(),
        Kept::Reckoned(tenths) => format!("about {} are shown", decibels_shown(tenths)),
        Kept::Measured(tenths) => format!("{} were measured", decibels_shown(tenths)),
    };
    let taken = if pair.is_power_written { "" } else { ", which are taken since none is written," };
    let more = match all.len() {
        0 => String::new(),
        count => format!("; likewise for {} and {}", plural(count - 1, "further transmitter"), receiver.name),
    };
    let what = format!(
        "at {} {} with {}{taken} and {} work at once near each other in frequency: about {} of isolation are needed, {has}{more}",
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
            "write what was measured, {}, or the `distance` of the antennas in its place ({stacked} m one above the other, `stacked = true`, is enough){turns}",
            spacing(place, pair)
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
    // A waiver of many names them all, so that one more is found again.
    let others = all.iter().flat_map(|other| &other.sender.subject);
    let subjects = sender.subject.iter().chain(&receiver.subject).chain(others);
    subjects.fold(finding, |finding, on| finding.on(on.clone()))
}

/// What is typed to say what was measured between two radios, by the ids of the place's own antennas; for a radio that is on none an
/// antenna comes with it. What the place has already is added to, since a key stands once.
fn spacing(place: &Place, pair: &Pair<'_>) -> String {
    let mut ids: Vec<String> = Vec::new();
    let mut new: Vec<String> = Vec::new();
    for (end, antenna) in [pair.sender, pair.receiver].into_iter().zip(pair.antennas) {
        let known = antenna.map(|antenna| antenna.id.value.to_string());
        let Some(id) = known.or_else(|| {
            let (key, id) = used_by(end)?;
            let is_taken = |name: &str| place.antennas.iter().any(|antenna| antenna.id.as_str() == name);
            let is_taken = is_taken(id.as_str()) || ids.iter().any(|other| other == id.as_str());
            let own = if is_taken { format!("{id}-antenna") } else { id.to_string() };
            new.push(format!("{{ id = \"{own}\", {key} = [\"{id}\"] }}"));
            Some(own)
        }) else {
            return format!(
                "with `antenna` and `spacing` of {}, the antenna of {} first",
                place.tactical.value, end.name
            );
        };
        ids.push(id);
    }
    let add = |key: &str, is_there: bool, items: &str| match is_there {
        true => format!("`{items}` added to `{key}` of {}", place.tactical.value),
        false => format!("`{key} = [{items}]`"),
    };
    let of = ids.iter().map(|id| format!("\"{id}\"")).collect::<Vec<_>>().join(", ");
    let between = format!("{{ of = [{of}], isolation = \"{}\" }}", decibels_needed(pair.needed));
    let between = add("spacing", !place.spacings.is_empty(), &between);
    match new.is_empty() {
        true => between,
        // Of a plan that names no antenna here the two are on one line each; where it names some, another may be theirs.
        false => {
            let antennas = add("antenna", !place.antennas.is_empty(), &new.join(", "));
            format!("{antennas} and {between}")
        }
    }
}

/// The list of an antenna that names a radio, and as what.
fn used_by(end: &SiteEnd) -> Option<(&'static str, &Id)> {
    let subject = end.subject.as_ref()?;
    match (subject.kind, &end.channel) {
        (_, Some(channel)) => Some(("channels", channel)),
        ("repeater", None) => Some(("repeaters", &subject.id)),
        ("gateway", None) => Some(("gateways", &subject.id)),
        _ => None,
    }
}
