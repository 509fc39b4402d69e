//! A link does not make two nets into one.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule};
use crate::plan::{Channel, Net, Ref, subject};

/// A link does not make two nets into one.
pub(super) const RULE: Rule = Rule::warning("link-joins-nets", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a link one of whose channels is used by a net that the other channel has no part in, while another net uses the other one.
Costs: every word of the one net is sent on the other: both stations that speak at once lose their traffic, and nobody knows why the channel is never free.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "shelter"
row = 2
name = "SHEL 1"
spoken = "Shelter One"
simplex = "446.075 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"

[[net]]
id = "shelters"
name = "Shelter net"
spoken = "Shelter Net"
primary = "shelter"

[[link]]
id = "yard"
call = "WZ7QRA"
joins = ["cmd", "shelter"]  # link-joins-nets
```
Right: link a channel that no other net works on, or accept it where the two nets are meant to be one.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for link in facts.plan.links.iter() {
        let [one, other] = &link.joins;
        let uses = |net: &Net, id: &At<Ref<Channel>>| {
            let mut all = net.legs.iter().map(|leg| &leg.channel).chain(&net.also);
            all.any(|channel| channel.value == id.value)
        };
        let alone = |here: &At<Ref<Channel>>, there: &At<Ref<Channel>>| {
            facts.plan.nets.iter().find(|net| uses(net, here) && !uses(net, there))
        };
        let Some((first, second)) = Option::zip(alone(one, other), alone(other, one)) else { continue };
        let what =
            format!("link {} sends all of {} into {} and back", link.name.value, first.name.value, second.name.value);
        found.push(
            Finding::new(&RULE, one.span, what)
                .label(format!("a channel of {}", first.name.value))
                .and(other.span, format!("a channel of {}", second.name.value))
                .help("link a channel that no other net works on, or accept it where the two nets are meant to be one")
                .on(subject(link))
                .on(subject(first))
                .on(subject(second)),
        );
    }
}
