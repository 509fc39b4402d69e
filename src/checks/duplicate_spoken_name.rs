//! No two things may be called alike on the air.

use super::Facts;
use super::twins::{MetNames, Twin, unlike};
use crate::ground::{At, Finding, Findings, Id, Rule, Subject, Words};
use crate::plan::{Net, subject};

/// No two things may be called alike on the air.
pub(super) const RULE: Rule = Rule::of_format("duplicate-spoken-name", DOC);

const DOC: &str = r#"
Finds: two channels, nets or places with the same spoken name, capitals and spaces aside, or with names that look alike on paper, as `Command One` and `Command 0ne`. A net may be called like its own primary channel.
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
struct SaidName<'a> {
    spoken: &'a At<Words>,
    on: Subject,
    /// The channel itself, or a net's primary channel: those two may share a name.
    channel: Option<&'a Id>,
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let channels = plan.channels.iter().map(|channel| SaidName {
        spoken: &channel.spoken,
        on: subject(channel),
        channel: Some(&channel.id.value),
    });
    let nets = plan.nets.iter().map(|net| SaidName { spoken: &net.spoken, on: subject(net), channel: primary(net) });
    let places =
        plan.places.iter().map(|place| SaidName { spoken: &place.tactical, on: subject(place), channel: None });
    let mut met = MetNames::new();
    for said in channels.chain(nets).chain(places) {
        let Err((Twin { first, is_same }, said)) = met.meet(said.spoken.as_str(), said) else { continue };
        if said.channel.is_some() && said.channel == first.channel {
            continue;
        }
        let (one, other, spoken) = (&first.on, &said.on, &said.spoken.value);
        let finding = if is_same {
            let what = format!("{one} and {other} are both called \"{spoken}\" on the air");
            Finding::new(&RULE, said.spoken.span, what).label("the same words again")
        } else {
            let earlier = &first.spoken.value;
            let what = format!("{one} and {other} are called \"{earlier}\" and \"{spoken}\", which look alike");
            let finding = Finding::new(&RULE, said.spoken.span, what).label("looks like the other name");
            finding.note(unlike(spoken, earlier))
        };
        let finding = finding.and(first.spoken.span, "first here").help("give one of them another spoken name");
        found.push(finding.on(said.on));
    }
}

fn primary(net: &Net) -> Option<&Id> {
    net.legs.iter().find(|leg| leg.name == "primary").map(|leg| &*leg.channel.value)
}
