//! A plug fits a socket of what feeds it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, listed, nearest};
use crate::plan::subject;
use crate::reckon::Wiring;

/// A plug fits a socket of what feeds it.
pub(super) const RULE: Rule = Rule::warning("connectors-do-not-mate", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a part whose `plug` is none of the `sockets` of what feeds it, where both are written.
Costs: at the shelter nothing can be plugged in, and somebody cuts a cable in the dark.

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
  { id = "pack", kind = "battery", battery = "shelf", sockets = ["blade pair"] },
  { id = "lamp", kind = "light", from = "pack", fuse = "3 A", idle = "0.5 A", plug = "lighter plug" },     # connectors-do-not-mate
]
```
Right: make or pack an adapter, with its own fuse where it begins, and write what it makes of the plug: `plug = "blade pair"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for station in facts.plan.stations.iter() {
        let wiring = Wiring::of(facts.plan, station);
        for lead in wiring.leads() {
            let ends = wiring.nodes.get(lead.to).zip(wiring.nodes.get(lead.from));
            let (Some(plug), Some((node, feeder))) = (&lead.cable.plug, ends) else { continue };
            let sockets: Vec<&str> = feeder.part.sockets.iter().map(|socket| socket.as_str()).collect();
            let (Some(first), false) =
                (feeder.part.sockets.first(), sockets.iter().any(|socket| fit(socket, plug.as_str())))
            else {
                continue;
            };
            let what = format!(
                "{} of {} has a {}, and {} that feeds it has {}",
                node.part.name.value,
                station.name.value,
                plug.value,
                feeder.part.name.value,
                listed(&sockets)
            );
            let finding = Finding::new(&RULE, plug.span, what)
                .label("fits none of its sockets")
                .and(first.span, "what it has")
                .on(subject(station));
            found.push(match nearest(plug.as_str(), sockets.iter().copied()) {
                Some(meant) => finding.did_you_mean(meant),
                None => finding.help("pack an adapter, and write the plug that it makes"),
            });
        }
    }
}

/// Whether two connectors are written alike, whatever their letters' size.
fn fit(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}
