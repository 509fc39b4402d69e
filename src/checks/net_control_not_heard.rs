//! Who controls a net is heard on its channels, as far as that was tried.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Net, subject};
use crate::reckon::{PathTrials, Unheard, unheard_words};

/// Who controls a net is heard on its channels, as far as that was tried.
pub(super) const RULE: Rule = Rule::warning("net-control-not-heard", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a channel of a net, or one to which a row of it leads, on which the place of its control post, or of the post that takes control, and that of another post of the net were tried with `result = "nothing"`, whoever of the two sent. Of trials of one path, the same way on one channel, the last counts; of one day the later in the plan.
Costs: when the channel before fails, the net moves to one on which it is known that they do not hear each other. The rehearsal, the site sheets of both places and the net script say so as long as it stands.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "other"
jack = "none"
visited-on = 2026-10-04

[[place]]
id = "hall"
code = "HAL"
tactical = "River Hall"
kind = "other"
jack = "none"
visited-on = 2026-10-04

[[post]]
id = "mercy-post"
name = "Mercy radio"
place = "mercy"

[[post]]
id = "hall-post"
name = "River Hall radio"
place = "hall"
nets = ["aid"]

[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "aid"
name = "Aid net"
spoken = "Aid Net"
primary = "cmd"
alternate = "tac"           # net-control-not-heard
rejoin = "listen on CMD 1 for 5 minutes at each full hour"
control = "mercy-post"

[[path-test]]
from = "mercy"
to = "hall"
channel = "tac"
on = 2026-10-04
result = "nothing"
power = "25 W"
```
Right: write a channel on which both were heard, or try again with another antenna or more power and write the day and the `result` of that.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    if facts.plan.path_tests.is_empty() {
        return;
    }
    let tried = PathTrials::of(facts.plan);
    for net in facts.plan.nets.iter() {
        for unheard in tried.unheard_of(net) {
            found.push(finding(facts, net, &unheard, &tried));
        }
    }
}

fn finding(facts: Facts<'_>, net: &Net, unheard: &Unheard<'_>, tried: &PathTrials<'_>) -> Finding {
    let Unheard { channel, what, at, control, post, test } = unheard;
    let message =
        format!("{}, the {what} of {}: {}", channel.name.value, net.name.value, unheard_words(facts.plan, test));
    let controls = net.control.as_ref().is_some_and(|own| own.value == control.id.value);
    let does = if controls { "controls the net" } else { "takes control when net control is silent" };
    // A channel may be called "Blue channel": what a row leads to is told by how it begins.
    let is_row = what.starts_with("next ");
    let key = if is_row { "next" } else { what.strip_suffix(" channel").unwrap_or(what) };
    let again =
        "try it again with another antenna or more power and write the day and the `result` in a `[[path-test]]`";
    let help = match tried.heard_between(net, test) {
        Some((other, heard)) if !is_row => format!(
            "write `{key} = \"{}\"`, on which they were heard {} on {}, or {again}",
            other.id.value,
            heard.result.value.word(),
            heard.on.value
        ),
        _ => format!("{again}, or write another channel as `{key}`"),
    };
    Finding::new(&RULE, *at, message)
        .label("sends the net there")
        .and(test.result.span, "tried and not heard")
        .note(format!("{} {does}, {} works in it", control.name.value, post.name.value))
        .help(help)
        .on(subject(net))
        .on(subject(*channel))
        .on(subject(*control))
        .on(subject(*post))
}
