//! A net's channels do not all rest on one thing.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Id, Rule, Severity, Subject};
use crate::plan::{Channel, subject};
use crate::reckon::{element_words, rests_on};
use std::collections::BTreeSet;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// A net's channels do not all rest on one thing.
pub(super) const RULE: Rule = Rule {
    name: "net-shares-element",
    severity: Severity::Warning,
    waivable: true,
    source: "common practice, no source: primary, alternate, contingency, emergency are to fail one by one",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a net whose channels all rest on one repeater, gateway, place, on mains power without stated hours, or on the internet.
Costs: one fault takes the net and all its fallbacks.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "cmd-b"
row = 2
name = "CMD 2"
spoken = "Command Two"
repeater = "cold-ridge"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"             # net-shares-element
alternate = "cmd-b"
rejoin = "listen on CMD 1 for 5 minutes at each full hour"
```
Right: make one of them a simplex channel, or one through another repeater with its `backup-power`.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        let legs: Option<Vec<&Channel>> = net.legs.iter().map(|leg| facts.plan.channels.get(&leg.channel)).collect();
        let Some([first, others @ ..]) = legs.as_deref() else { continue };
        // A net that names one channel twice has a finding of its own.
        if others.is_empty() || others.iter().any(|other| other.id.value == first.id.value) {
            continue;
        }
        let mut shared: BTreeSet<String> = rests_on(facts.plan, first);
        for other in others {
            let theirs = rests_on(facts.plan, other);
            shared.retain(|element| theirs.contains(element));
        }
        // What stands nearest to the channel says most: a shared repeater shares its place and its mains as well.
        let nearest =
            ["repeater/", "gateway/", "place/", ""].iter().find_map(|kind| shared.iter().find(|e| e.starts_with(kind)));
        let (Some(element), Some(leg)) = (nearest, net.legs.first()) else { continue };
        let what = format!(
            "all {} channels of {} rest on {}",
            net.legs.len(),
            net.name.value,
            element_words(facts.plan, element)
        );
        let finding = Finding::new(&RULE, leg.channel.span, what).label("rests on it, and so do the others");
        let finding = net.legs.iter().skip(1).fold(finding, |finding, leg| finding.and(leg.channel.span, leg.name));
        let finding = finding
            .help("make one of them a simplex channel, or write `backup-power` where there is some")
            .on(subject(net));
        found.push(match record(element) {
            Some(on) => finding.on(on),
            None => finding,
        });
    }
}

/// An element as a record; none for mains and the internet.
fn record(element: &str) -> Option<Subject> {
    let (kind, id) = element.split_once('/')?;
    let kind = ["repeater", "gateway", "place"].into_iter().find(|known| *known == kind)?;
    Some(Subject::new(kind, &Id::parse(id).ok()?))
}
