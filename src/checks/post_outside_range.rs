//! A net is worked from where its repeaters are heard.

use super::Facts;
use crate::ground::{At, Distance, Finding, Findings, Id, Rule, listed};
use crate::plan::{Channel, Net, Place, Post, Ref, Repeater, subject};
use crate::reckon::heard;
use std::collections::BTreeMap;

/// A net is worked from where its repeaters are heard.
pub(super) const RULE: Rule = Rule::warning("post-outside-range", "the `range` that the plan gives the repeater", DOC);

const DOC: &str = r#"
Finds: a post from which a net is worked through a repeater, primary channel or any other of the net, that stands farther away than its `range`, by the `position` of both places.
Costs: the post calls, and nobody answers.

Wrong:
```toml
[[place]]
id = "ridge"
code = "RDG"
tactical = "Ridge"
kind = "repeater-site"
visited-on = 2026-10-04
position = "46.600, -112.000"

[[place]]
id = "clinic"
code = "CLI"
tactical = "Clinic"
kind = "other"
jack = "none"
visited-on = 2026-10-04
position = "46.800, -112.000"

[[repeater]]
id = "cold-ridge"
call = "WZ7QUR"
place = "ridge"
output = "146.940 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
range = "15 km"
verified = { on = 2026-10-04, by = "qra" }

[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "tac"
row = 3
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.430 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "tac"
alternate = "cmd"
rejoin = "listen on TAC 1 at each full hour"

[[post]]
id = "desk"
name = "Desk"
place = "clinic"            # post-outside-range
nets = ["command"]

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: work the net there through a repeater that reaches so far, or on simplex; where the post was heard all the same, write the `range` that was found.
"#;

/// Channels of nets through one repeater.
type Legs<'a> = Vec<(&'a Net, &'a Channel)>;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let staff = facts.staff();
    for post in plan.posts.iter() {
        let Some(at) = &post.place else { continue };
        let Some(position) = plan.places.get(&at.value).and_then(|place| place.position.as_ref()) else { continue };
        let mut beyond: BTreeMap<&Id, (Distance, Legs<'_>)> = BTreeMap::new();
        for net in staff.nets_of(post) {
            for channel in net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel)) {
                let Some(id) = channel.repeater() else { continue };
                let Some((from, range)) = plan.repeaters.get(id).and_then(|repeater| heard(plan, repeater)) else {
                    continue;
                };
                let apart = from.distance_to(&position.value);
                if apart > range {
                    beyond.entry(&id.value).or_insert((apart, Vec::new())).1.push((net, channel));
                }
            }
        }
        for (id, (apart, legs)) in beyond {
            let Some(repeater) = plan.repeaters.named(id) else { continue };
            finding((post, at), repeater, apart, &legs).into_iter().for_each(|finding| found.push(finding));
        }
    }
}

fn finding(
    (post, at): (&Post, &At<Ref<Place>>),
    repeater: &Repeater,
    apart: Distance,
    legs: &[(&Net, &Channel)],
) -> Option<Finding> {
    let range = repeater.range?;
    let legs_named: Vec<String> =
        legs.iter().map(|(net, channel)| format!("{} on {}", net.name.value, channel.name.value)).collect();
    let what = format!(
        "{} works {} through repeater {}, {} km away and heard {} around",
        post.name.value,
        listed(&legs_named),
        repeater.name.value,
        (apart.as_metres() + 500) / 1000,
        range.value
    );
    let finding = Finding::new(&RULE, at.span, what)
        .label("stands outside its range")
        .and(range.span, "heard this far")
        .help("work the net there through another repeater or on simplex; where it was heard all the same, write the `range` that was found")
        .on(subject(post))
        .on(subject(repeater));
    Some(legs.iter().fold(finding, |finding, (net, _)| finding.on(subject(*net))))
}
