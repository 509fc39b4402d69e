//! Who stands a post has a radio for its nets.

use super::Facts;
use super::post_watch::{named, nets_of};
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Who stands a post has a radio for its nets.
pub(super) const RULE: Rule = Rule::warning("no-radio-for-duty", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a shift at a post, none of whose people has a radio that hears and sends on some channel of a net worked there, or on one to which the `next` of its rows lead. Radios at one post are shared. Where the law already bars all of them, `nobody-may-use` says it; who has no radio in the plan is not judged. In another service than amateur a radio counts that names it in `services`, and channels to listen to alone are not judged.
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
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"

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

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for watch in facts.watches() {
        let Some((first, duty)) = watch.unequipped.first().zip(watch.duties.first()) else { continue };
        let channel = first.channel;
        let what = format!(
            "from {} nobody at {} ({}) has a radio for {}: {} on {}",
            watch.when,
            watch.post.name.value,
            watch.names(),
            named(&watch.unequipped),
            channel.signal.mode.value,
            channel.send.map_or(channel.hear.value, |send| send.value)
        );
        let finding = Finding::new(&RULE, duty.member.span, what)
            .label("has no radio for it")
            .and(first.at, "a channel that the post needs")
            .help("send somebody who has one, or write the radio that stands there among the member's")
            .on(subject(watch.post));
        let finding = watch.members.iter().fold(finding, |finding, (member, _)| finding.on(subject(*member)));
        found.push(nets_of(&watch.unequipped).into_iter().fold(finding, |finding, net| finding.on(subject(net))));
    }
}
