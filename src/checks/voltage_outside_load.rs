//! A load gets a voltage that it takes, also while it draws the most.

use super::Facts;
use crate::ground::{At, Current, Finding, Findings, Rule, Voltage};
use crate::plan::{Station, subject};
use crate::reckon::{WiredPart, Wiring, lost};

/// A load gets a voltage that it takes, also while it draws the most.
pub(super) const RULE: Rule = Rule::warning("voltage-outside-load", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a part with `lowest` or `highest` that is fed with another voltage: by the battery's nominal voltage, less what its cable and those before it take there and back while all of the station draws its most.
Costs: a radio shuts off each time it is keyed, or smoke rises from a computer.

Wrong:
```toml
[[battery]]
id = "shelf"
name = "Shelf battery"
capacity = "50 Ah"
chemistry = "lithium-iron-phosphate"

[[station]]
id = "table-set"
name = "Table set"
part = [
  { id = "pack", kind = "battery", battery = "shelf" },
  { id = "radio", kind = "radio", from = "pack", fuse = "20 A", idle = "0.5 A", sending = "12 A", lowest = "11.7 V", wire = "16 AWG", length = "4 m" },     # voltage-outside-load
]
```
Right: a thicker or a shorter cable, `wire = "10 AWG"`; or less power; or a converter.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        for (at, node) in wiring.nodes.iter().enumerate() {
            let (part, drawn) = (node.part, wiring.flow(at));
            let gives = wiring.feeder(node).and_then(|feeder| feeder.gives);
            let low = part.lowest.zip(wiring.left(at)).filter(|(lowest, reaches)| *reaches < lowest.value);
            let high = part.highest.zip(gives).filter(|(highest, gives)| *gives > highest.value);
            if let Some((limit, reaches)) = low {
                found.push(finding((station, &wiring, node), (limit, reaches), drawn));
            } else if let Some((limit, gives)) = high {
                found.push(finding((station, &wiring, node), (limit, gives), Current::grains(0)));
            }
        }
    }
}

fn finding(
    (station, wiring, node): (&Station, &Wiring<'_>, &WiredPart<'_>),
    (limit, reaches): (At<Voltage>, Voltage),
    drawn: Current,
) -> Finding {
    let part = node.part;
    let is_low = reaches < limit.value;
    let side = if is_low { "at least" } else { "at most" };
    let while_drawn = if is_low { format!(" while all of it draws its most, {drawn} here") } else { String::new() };
    let what = format!(
        "{} of {} gets {reaches}{while_drawn}, and takes {side} {}",
        part.name.value, station.name.value, limit.value
    );
    let finding = Finding::new(&RULE, limit.span, what).label(format!("{side} this")).on(subject(station));
    let gives = wiring.feeder(node).and_then(|feeder| feeder.gives);
    match (lost(&part.cable, drawn), part.cable.wire, gives) {
        (Some(lost), Some(wire), Some(gives)) if is_low => finding
            .and(wire.span, format!("takes {lost} of {gives} there and back"))
            .note("resistance of copper at 20 degrees by the gauge (ASTM B258, IEC 60028); crimps and heat take more")
            .help("take a thicker or a shorter cable, less power, or a converter"),
        _ => finding.help("feed it by a converter, or by another battery"),
    }
}
