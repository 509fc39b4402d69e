//! Who stands a post has a radio for its nets.

use super::{Check, Facts};
use crate::ground::plural;
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Channel, Duty, Member, Net, Radio, subject};
use crate::reckon::can_send;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Who stands a post has a radio for its nets.
pub(super) const RULE: Rule = Rule {
    name: "no-radio-for-duty",
    severity: Severity::Warning,
    waivable: true,
    source: "common practice, no source",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a duty whose member has radios in the plan, none of which can send on the primary channel of a net worked from that post.
Costs: the shift begins, and the operator cannot answer.

Wrong:
```toml
[[radio]]
id = "ht-70"
name = "UHF hand-held"
covers = ["420 MHz to 450 MHz"]
modes = ["FM"]
power = "5 W"

[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
radio = ["ht-70"]

[[channel]]
id = "cmd"
slot = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"              # net-does-not-rejoin

[[post]]
id = "desk"
name = "Desk"
nets = ["command"]

[[duty]]
post = "desk"
member = "qsb"              # no-radio-for-duty
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: send somebody with a radio for it, add the radio that stands at the post to the member's, or write what the member has.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for duty in &facts.plan.duties {
        let Some(member) = facts.plan.members.get(&duty.member.value) else { continue };
        let radios: Vec<&Radio> = member.radios.iter().filter_map(|id| facts.plan.radios.get(&id.value)).collect();
        if radios.is_empty() || radios.len() < member.radios.len() {
            continue;
        }
        for net in nets(facts, duty) {
            let primary = net.legs.iter().find(|leg| leg.name == "primary");
            let channel = primary.and_then(|leg| facts.plan.channels.get(&leg.channel.value));
            if let Some(channel) = channel.filter(|channel| !radios.iter().any(|radio| can_send(radio, channel))) {
                found.push(finding(duty, member, net, channel));
            }
        }
    }
}

/// The nets that a duty works: those of its post.
fn nets<'a>(facts: Facts<'a>, duty: &Duty) -> Vec<&'a Net> {
    let post = facts.plan.posts.get(&duty.post.value);
    let ids = post.into_iter().flat_map(|post| &post.nets);
    ids.filter_map(|id| facts.plan.nets.get(&id.value)).collect()
}

fn finding(duty: &Duty, member: &Member, net: &Net, channel: &Channel) -> Finding {
    let what = format!(
        "{} works {}, but none of {} sends {} on {}",
        member.name.value,
        net.name.value,
        plural(member.radios.len(), "radio"),
        channel.signal.mode.value,
        channel.send.map_or(channel.hear.value, |send| send.value)
    );
    Finding::new(&RULE, duty.member.span, what)
        .label("has no radio for it")
        .and(channel.id.span, "the net's primary channel")
        .help("send somebody who has one, or write the radio that stands there among the member's")
        .on(subject(member))
        .on(subject(net))
}
