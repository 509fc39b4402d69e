//! Behind the last channel of a net something is said.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::reckon::way;

/// Behind the last channel of a net something is said.
pub(super) const RULE: Rule = Rule::warning("last-channel-leads-nowhere", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net with somewhere to move to, behind whose last channel nothing is said: the net has no `rejoin`, and no row leads back to a channel before. A net of one channel is left to `net-does-not-rejoin`.
Costs: who hears nobody on the last channel stays there for good, while the others are back on the first.

Wrong:
```toml
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
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"
alternate = "tac"           # last-channel-leads-nowhere
```
Right: write in the net `rejoin = "listen on CMD 1 for 5 minutes at each full hour"`, or `next = "cmd"` in the last row.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    if !plan.channels.is_whole() {
        return;
    }
    for net in plan.nets.iter().filter(|net| net.rejoin.is_none()) {
        let (way, leads_back) = way(plan, net);
        let (Some(first), Some(last)) = (way.first(), way.last().filter(|_| way.len() > 1 && !leads_back)) else {
            continue;
        };
        let what = format!(
            "{} ends on {}: nothing says where to listen, or when, if nobody answers there",
            net.name.value, last.name.value
        );
        let leg = net.legs.iter().find(|leg| leg.channel.value == last.id.value).or(net.legs.last());
        let finding = Finding::new(&RULE, leg.map_or(net.span, |leg| leg.channel.span), what)
            .label("leads there at last")
            .and(last.id.span, "nothing comes after this channel");
        let rejoin = format!("rejoin = \"listen on {} for 5 minutes at each full hour\"", first.name.value);
        let finding = finding.help(format!("write in the net `{rejoin}`"));
        let is_plain = !first.name.as_str().contains(['"', '\\']);
        let finding = match leg.filter(|_| is_plain) {
            Some(leg) => finding.fix(leg.channel.span, format!("\"{}\"\n{rejoin}", leg.channel.value)),
            None => finding,
        };
        found.push(finding.on(subject(net)).on(subject(*last)));
    }
}
