//! The two channels of a link lie in different bands.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule};
use crate::plan::{Channel, Ref, subject};
use crate::reckon::Transmission;

/// The two channels of a link lie in different bands.
pub(super) const RULE: Rule = Rule::warning(
    "link-within-one-band",
    "common practice, no source: a receiver beside a transmitter of its own band is deaf without a duplexer",
    DOC,
);

const DOC: &str = r#"
Finds: a link whose two channels lie in one band.
Costs: the link's transmitter deafens its own receiver a few meters away, and nothing gets through.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "near"
row = 2
name = "NEAR"
spoken = "Near"
simplex = "147.450 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[link]]
id = "yard"
call = "WZ7QRA"
joins = ["cmd", "near"]     # link-within-one-band
```
Right: put the near side into another band, `simplex = "446.075 MHz"`, or accept it where a duplexer stands between.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for link in facts.plan.links.iter() {
        let band = |id: &At<Ref<Channel>>| {
            let channel = facts.plan.channels.get(id)?;
            facts.profile.band_of(&facts.occupies(&Transmission::heard_on(facts.plan, channel)).ok()?)
        };
        let [one, other] = &link.joins;
        let Some(name) = Option::zip(band(one), band(other)).filter(|(a, b)| a.id == b.id).map(|(a, _)| &a.name) else {
            continue;
        };
        let what = format!("both sides of link {} lie in the {name} band", link.name.value);
        found.push(
            Finding::new(&RULE, other.span, what)
                .label("the same band as the other side")
                .and(one.span, "the other side")
                .help("put one side into another band, or accept it where a duplexer stands between")
                .on(subject(link)),
        );
    }
}
