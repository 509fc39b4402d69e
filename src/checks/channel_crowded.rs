//! A channel does not carry more stations than can speak on it.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule};
use crate::plan::{Net, subject};
use std::collections::{BTreeMap, BTreeSet};

/// A channel does not carry more stations than can speak on it.
pub(super) const RULE: Rule = Rule::warning(
    "channel-crowded",
    "common practice, no source: a directed net of more than 20 stations passes little traffic",
    DOC,
);

const DOC: &str = r"
Finds: a channel that is the primary channel of nets worked from more than 20 posts in all; nets on a channel that a link joins to it count too.
Costs: everybody waits, and the urgent message waits with them.

Right: part the net: another channel for some of its posts, with a station that listens to both.
";

/// Most posts on one channel.
pub(super) const MOST: usize = 20;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let staff = facts.staff();
    let mut joined: BTreeMap<&Id, BTreeSet<&Id>> = BTreeMap::new();
    for link in facts.plan.links.iter() {
        let [one, other] = &link.joins;
        for (from, to) in [(one, other), (other, one)] {
            joined.entry(&from.value).or_default().insert(&to.value);
        }
    }
    // Channels that a link joins carry the same nets: said once.
    let mut said: BTreeSet<Vec<&Id>> = BTreeSet::new();
    for channel in facts.plan.channels.iter() {
        let others = joined.get(&channel.id.value).into_iter().flatten().copied();
        let begun = others.chain([&channel.id.value]).flat_map(|id| staff.begun_on(id));
        let begun: BTreeMap<&Id, &Net> = begun.map(|net| (&net.id.value, *net)).collect();
        let nets: Vec<&Net> = begun.into_values().collect();
        let count = staff.posts_on(&nets);
        let Some(leg) = nets.first().and_then(|net| net.legs.first()).filter(|_| count > MOST) else { continue };
        if !said.insert(nets.iter().map(|net| &net.id.value).collect()) {
            continue;
        }
        let names: Vec<&str> = nets.iter().map(|net| net.name.as_str()).collect();
        let what = format!(
            "{count} posts meet on {}, the primary channel of {}; {MOST} are the most that one channel serves",
            channel.name.value,
            names.join(", ")
        );
        let finding = Finding::new(&RULE, leg.channel.span, what).label("too many on one channel");
        let finding =
            finding.and(channel.id.span, "this channel").help("give some of the posts a net on another channel");
        found.push(nets.iter().fold(finding.on(subject(channel)), |finding, net| finding.on(subject(*net))));
    }
}
