//! Nobody is sent to a channel that is not on the air.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule, Subject};
use crate::plan::{Channel, Ref, subject};

/// Nobody is sent to a channel that is not on the air.
pub(super) const RULE: Rule = Rule::warning("leads-off-the-air", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net that meets on, or goes on to, a channel whose `status`, or whose repeater's, says that it is planned or off the air; a row whose `next` leads to one. Where the order of a net or a row leads there, cards and rehearsals go on to the channel after it.
Costs: people wait on a channel where nobody can answer.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
status = "off the air"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "cmd"
row = 3
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
next = "tac"                # leads-off-the-air
after = "2 min"
```
Right: lead to a channel that works, or leave `status` out once it does.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    for net in plan.nets.iter() {
        let legs = net.legs.iter().map(|leg| (leg.name, &leg.channel));
        let then = net.meetings.iter().filter_map(|meeting| Some(("scheduled", meeting.on.as_ref()?)));
        for (what, id) in legs.chain(net.also.iter().map(|id| ("further", id))).chain(then) {
            let whence = format!("the {what} channel of {}", net.name.value);
            found.extend(finding(facts, &whence, id, &subject(net)));
        }
    }
    for channel in plan.channels.iter().filter(|channel| channel.is_on_air()) {
        let Some(next) = &channel.next else { continue };
        found.extend(finding(
            facts,
            &format!("the next channel after {}", channel.name.value),
            next,
            &subject(channel),
        ));
    }
}

fn finding(facts: Facts<'_>, whence: &str, id: &At<Ref<Channel>>, on: &Subject) -> Option<Finding> {
    let channel = facts.plan.channels.get(id)?;
    let status = channel.status?;
    let what = format!("{whence} is {}, which is {}", channel.name.value, status.value.words());
    let finding = Finding::new(&RULE, id.span, what).label("leads where nobody answers").and(status.span, "says so");
    let help = "lead to a channel that works, or leave `status` out once it does";
    let finding = finding.help(help).on(on.clone());
    Some(if *on == subject(channel) { finding } else { finding.on(subject(channel)) })
}
