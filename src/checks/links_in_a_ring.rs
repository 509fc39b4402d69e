//! Links do not lead back to where they began.

use super::Facts;
use crate::ground::{At, Finding, Findings, Id, Rule};
use crate::plan::{Channel, Ref, subject};
use std::collections::BTreeMap;

/// Links do not lead back to where they began.
pub(super) const RULE: Rule = Rule::warning("links-in-a-ring", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a link between two channels that other links join already.
Costs: what one link repeats the next one repeats again, round and round: the first word on any of the channels keys all of them until somebody pulls a plug.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "near"
row = 2
name = "NEAR"
spoken = "Near"
simplex = "446.075 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[link]]
id = "north-yard"
call = "WZ7QRA"
joins = ["cmd", "near"]

[[link]]
id = "south-yard"
call = "WZ7QRA"
joins = ["near", "cmd"]     # links-in-a-ring
```
Right: give the second yard a channel of its own, or accept it where only one of them is ever switched on.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    // Each channel's root among those that links join: a link between two of one root closes a ring.
    let mut above: BTreeMap<&Id, &Id> = BTreeMap::new();
    for link in facts.plan.links.iter() {
        let [one, other] = &link.joins;
        let (root, branch) = (root(&above, &one.value), root(&above, &other.value));
        if root != branch {
            above.insert(branch, root);
            continue;
        }
        let name =
            |id: &At<Ref<Channel>>| facts.plan.channels.get(id).map_or_else(|| id.to_string(), |c| c.name.to_string());
        let what =
            format!("link {} joins {} and {}, which other links join already", link.name.value, name(one), name(other));
        found.push(
            Finding::new(&RULE, one.span, what)
                .label("closes a ring of links")
                .help("leave one of the links out, or give it a channel of its own")
                .on(subject(link)),
        );
    }
}

fn root<'a>(above: &BTreeMap<&'a Id, &'a Id>, mut id: &'a Id) -> &'a Id {
    while let Some(next) = above.get(id) {
        id = next;
    }
    id
}
