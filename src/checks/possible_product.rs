//! At one place no product of two or three transmitters falls on a receiver.

use super::Facts;
use crate::ground::caps::{SITE_SENDERS, SITE_THREES};
use crate::ground::{Finding, Findings, Frequency, Rule, Width, plural};
use crate::plan::subject;
use crate::reckon::{Hits, Keyed, Site};
use crate::source::MORE_THAN_TAKEN;

/// At one place no product of two or three transmitters falls on a receiver.
pub(super) const RULE: Rule = Rule::warning(
    "possible-product",
    "third and fifth order products 2A - B, A + B - C, 3A - 2B; levels: ITU-R SM.1134 (not computed here)",
    DOC,
);

const DOC: &str = r#"
Finds: a place where a product of transmitters that can key together may fall on a receiver there: 2A - B, A + B - C, 3A - 2B, with its widened width. What sends and hears: the channels that the place `monitors` or that posts there work, repeaters, gateways and links that stand there, and `other` equipment declared there. What keys by itself (a repeater, a link, an automatic gateway) is held against every channel of the plan within its range, also where nobody listens at its site.
Costs: perhaps a receiver that goes deaf when everybody talks. Whether it does depends on transmitters, filters and antennas, which nobody has told this program.

Wrong:
```toml
[[place]]
id = "ridge"
code = "RDG"
tactical = "Ridge Site"
kind = "repeater-site"
visited-on = 2026-10-04
antenna = [{ id = "low", repeaters = ["one"] }, { id = "high", repeaters = ["two"] }]
spacing = [{ of = ["low", "high"], isolation = "80 dB", filter = "a cavity on each" }]

[[repeater]]
id = "one"
call = "WZ7QUX"
place = "ridge"
output = "146.910 MHz"
input = "-600 kHz"
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }

[[repeater]]
id = "two"
call = "WZ7QUY"
place = "ridge"
output = "147.300 MHz"
input = "+600 kHz"
tone-in = "123.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }

[[channel]]
id = "call"
row = 2
name = "CALL"
spoken = "Calling"
simplex = "146.520 MHz"     # possible-product
verified = { on = 2026-10-01, by = "qra" }
```
Right: move one of them, put a cavity or an isolator in, or say that they take turns: `turns = [["cmd", "med"]]`. Where a test showed no harm, accept it.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Ok(site) = facts.site(place) else { continue };
        if !site.is_crowded() {
            continue;
        }
        let (name, count) = (&place.tactical.value, site.senders.len());
        let what = if u64::try_from(count).is_ok_and(|count| SITE_SENDERS.takes(count)) {
            let (of, most) = (SITE_THREES.of, SITE_THREES.most);
            format!("with the {count} transmitters at {name} there are more than {most} {of}, the most that are taken")
        } else {
            format!("at {name} there are {count} {}, and {} are taken", SITE_SENDERS.of, SITE_SENDERS.most)
        };
        let finding = Finding::new(&MORE_THAN_TAKEN, place.id.span, what).label("too many send here");
        found.push(finding.help("take channels out of its `monitors`, or make two places of it").on(subject(place)));
    }
    look(facts, &RULE, Site::products, found);
}

/// One finding for each receiver at a place that a product of the kind may fall on: the closest, and how many more.
pub(super) fn look(facts: Facts<'_>, rule: &'static Rule, hits: fn(&Site) -> Hits, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Ok(site) = facts.site(place) else { continue };
        let hits = hits(&site);
        // Sorted by receiver, then by distance.
        for of_receiver in hits.kept.chunk_by(|a, b| a.receiver == b.receiver) {
            let Some(closest) = of_receiver.first() else { continue };
            let Some(receiver) = site.receivers.get(closest.receiver) else { continue };
            let more = match of_receiver.len() - 1 + hits.more.get(closest.receiver).unwrap_or(&0) {
                0 => String::new(),
                more => format!(", and {}", plural(more, "further product")),
            };
            let what = format!(
                "at {} a possible {} product {} on {} may fall on {}, {} away{more}",
                place.tactical.value,
                closest.shape,
                site.formula(closest),
                megahertz(closest.at),
                if receiver.is_distant { format!("{} within range", receiver.name) } else { receiver.name.clone() },
                kilohertz(closest.distance)
            );
            let finding = Finding::new(rule, receiver.span, what)
                .label(if receiver.is_distant { "hears within range of there" } else { "hears there" })
                .and(place.id.span, "at this place")
                .note("possible only: transmitters, filters and antennas decide, and are not known")
                .help(if closest.senders.iter().filter_map(|at| site.senders.get(*at)).any(|end| end.keyed == Keyed::Itself) {
                    "move one of them, fit a cavity or an isolator, or accept it after a test"
                } else {
                    "move one of them, fit a cavity or an isolator, let them take turns (`turns`), or accept it after a test"
                })
                .on(subject(place));
            let finding = receiver.subject.iter().fold(finding, |finding, on| finding.on(on.clone()));
            let mut senders: Vec<usize> = closest.senders.to_vec();
            senders.dedup();
            let senders = senders.iter().filter_map(|at| site.senders.get(*at));
            found.push(senders.fold(finding, |finding, sender| {
                let finding = finding.and(sender.span, format!("{} sends", sender.name));
                sender.subject.iter().fold(finding, |finding, on| finding.on(on.clone()))
            }));
        }
    }
}

fn megahertz(hertz: u64) -> String {
    Frequency::hertz(hertz).map_or_else(String::new, |frequency| frequency.to_string())
}

fn kilohertz(hertz: u64) -> String {
    Width::hertz(hertz).to_string()
}
