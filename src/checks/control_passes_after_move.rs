//! Who takes control speaks before everybody has left the channel.

use super::Facts;
use crate::ground::{Finding, Findings, Lapse, Rule};
use crate::plan::subject;
use crate::reckon::{onward, silence, wait_on};

/// Who takes control speaks before everybody has left the channel.
pub(super) const RULE: Rule = Rule::warning("control-passes-after-move", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net with an `alternate-control` whose `control-after` is not shorter than the silence after which everybody leaves its first channel: what the row's `after` says, else the net's `trigger`. The papers then say on which channel the net is by the time control passes.
Costs: only net control is silent, and the net gives up a channel that works; until control passes nobody leads it on the next one.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
next = "tac"
after = "2 min"

[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[place]]
id = "hall"
code = "HAL"
tactical = "Hall"
kind = "other"
jack = "none"
visited-on = 2026-10-04

[[post]]
id = "desk"
name = "Desk"
place = "hall"

[[post]]
id = "gate"
name = "Gate"

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"
alternate = "tac"
rejoin = "listen on CMD 1 for 5 minutes at each full hour"
control = "desk"
alternate-control = "gate"
control-after = "5 min"     # control-passes-after-move
```
Right: let control pass first, `control-after = "1 min"`, or let everybody wait longer.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    for net in plan.nets.iter() {
        let (Some(control), Some(after), Some(silence)) = (&net.control, net.control_after, silence(plan, net)) else {
            continue;
        };
        let Some((first, next)) = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel)).zip(silence.next)
        else {
            continue;
        };
        let (Some(to), Some(wait)) = (onward(plan, net, first), wait_on(plan, net, first)) else { continue };
        if after.value < wait.value {
            continue;
        }
        let late = Lapse::seconds(after.value.as_seconds() - wait.value.as_seconds());
        let late = if late.as_seconds() == 0 { "as everybody leaves".to_owned() } else { format!("{late} too late") };
        let what = format!(
            "{} leaves {} for {} after {}, and {} takes control after {}: {late}",
            net.name.value, first.name.value, to.name.value, wait.value, next.name.value, after.value
        );
        let finding = Finding::new(&RULE, after.span, what)
            .label("control passes")
            .and(wait.span, "everybody leaves")
            .on(subject(net))
            .on(subject(first));
        let finding = match plan.posts.get(control) {
            Some(control) => finding.note(format!(
                "whoever does not hear {} cannot tell its silence from that of {}",
                control.name.value, first.name.value
            )),
            None => finding,
        };
        found.push(match sooner(wait.value) {
            Some(sooner) => finding
                .help(format!(
                    "write `control-after = \"{sooner}\"`, or let everybody wait longer than {}",
                    after.value
                ))
                .fix(after.span, format!("\"{sooner}\"")),
            None => finding.help(format!("let everybody wait longer than {}", after.value)),
        });
    }
}

/// Half of a wait, in whole minutes where it has two; none of a second.
fn sooner(wait: Lapse) -> Option<Lapse> {
    let half = wait.as_seconds() / 2;
    let half = if half >= 60 { half - half % 60 } else { half };
    (half > 0).then(|| Lapse::seconds(half))
}
