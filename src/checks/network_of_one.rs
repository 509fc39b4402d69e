//! A network joins two repeaters at least.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, plural};
use crate::plan::subject;
use std::collections::BTreeSet;

/// A network joins two repeaters at least.
pub(super) const RULE: Rule = Rule::of_format("network-of-one", DOC);

const DOC: &str = r#"
Finds: a network whose `members` name fewer than two repeaters, or one twice.
Costs: somebody relies on being heard through another repeater, and the plan does not say through which.

Wrong:
```toml
[[network]]
id = "ring"
members = ["cold-ridge"]    # network-of-one
linked = "radio"
```
Right: name every repeater that is linked, or leave the network out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for network in facts.plan.networks.iter() {
        let members = &network.members.value;
        let different: BTreeSet<&Id> = members.iter().map(|member| &*member.value).collect();
        if different.len() == members.len() && different.len() >= 2 {
            continue;
        }
        let count = plural(different.len(), "repeater");
        let what = match different.len() < 2 {
            true => format!("network {} has {count}", network.name.value),
            false => format!("network {} names one of its {count} twice", network.name.value),
        };
        let finding = Finding::new(&RULE, network.members.span, what).label("joins nothing, or one with itself");
        found.push(finding.help("name each repeater that is linked once: two at least").on(subject(network)));
    }
}
