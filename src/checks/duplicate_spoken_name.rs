//! No two things may be called alike on the air.

use super::{Check, Facts};
use crate::ground::{At, Finding, Findings, Id, OWN_FORMAT, Rule, Severity, Subject, Words};
use crate::plan::{Net, subject};
use std::collections::BTreeMap;

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// No two things may be called alike on the air.
pub(super) const RULE: Rule = Rule {
    name: "duplicate-spoken-name",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: two channels, nets or places with the same spoken name, capitals aside. A net may be called like its own primary channel.
Costs: "go to Command One" sends people to two channels.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical one"     # duplicate-spoken-name
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: give each its own spoken name.
"#;

/// Something that is called by name on the air.
struct Said<'a> {
    spoken: &'a At<Words>,
    on: Subject,
    /// The channel itself, or a net's primary channel: those two may share a name.
    channel: Option<&'a Id>,
}

fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let channels = plan.channels.iter().map(|channel| Said {
        spoken: &channel.spoken,
        on: subject(channel),
        channel: Some(&channel.id.value),
    });
    let nets = plan.nets.iter().map(|net| Said { spoken: &net.spoken, on: subject(net), channel: primary(net) });
    let places = plan.places.iter().map(|place| Said { spoken: &place.tactical, on: subject(place), channel: None });
    let mut seen: BTreeMap<String, Said<'_>> = BTreeMap::new();
    for said in channels.chain(nets).chain(places) {
        let key = said.spoken.value.to_string().to_lowercase();
        let Some(first) = seen.get(&key) else {
            seen.insert(key, said);
            continue;
        };
        if said.channel.is_some() && said.channel == first.channel {
            continue;
        }
        let what = format!("{} and {} are both called \"{}\" on the air", first.on, said.on, said.spoken.value);
        found.push(
            Finding::new(&RULE, said.spoken.span, what)
                .label("the same words again")
                .and(first.spoken.span, "first here")
                .help("give one of them another spoken name")
                .on(said.on),
        );
    }
}

fn primary(net: &Net) -> Option<&Id> {
    net.legs.iter().find(|leg| leg.name == "primary").map(|leg| &*leg.channel.value)
}
