//! No two channels, nets or places may be printed with one name, and no two places with one code.

use super::Facts;
use super::twins::{MetNames, Twin, unlike};
use crate::ground::{At, Finding, Findings, Rule, Subject, Words};
use crate::plan::subject;

/// No two channels, nets or places may be printed with one name, and no two places with one code.
pub(super) const RULE: Rule = Rule::of_format("duplicate-name", DOC);

const DOC: &str = r#"
Finds: two channels, two nets or two places with the same printed name, or two places with the same `code`, capitals, the width of letters and the number of spaces aside; and two that look alike on paper: `CMD 1` and `CMD l`, or a name with a Cyrillic C.
Costs: on paper nobody can tell which is meant.

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
name = "Tac 1"              # duplicate-name
spoken = "Tactical Two"
simplex = "146.580 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: give each its own name.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    twice(
        ("channels are called", "name"),
        plan.channels.iter().map(|channel| (&channel.name, subject(channel))),
        found,
    );
    twice(("nets are called", "name"), plan.nets.iter().map(|net| (&net.name, subject(net))), found);
    twice(("places are called", "name"), plan.places.iter().map(|place| (&place.tactical, subject(place))), found);
    twice(("places have the code", "code"), plan.places.iter().map(|place| (&place.code, subject(place))), found);
}

fn twice<'a>((what, which): (&str, &str), names: impl Iterator<Item = (&'a At<Words>, Subject)>, found: &mut Findings) {
    let mut met = MetNames::new();
    for (name, on) in names {
        let Err((Twin { first, is_same }, (name, on))) = met.meet(name.as_str(), (name, on)) else { continue };
        let (first, _) = first;
        let finding = if is_same {
            Finding::new(&RULE, name.span, format!("two {what} \"{}\"", name.value))
                .label(format!("the same {which} again"))
        } else {
            let said = format!("two {what} \"{}\" and \"{}\", which look alike", first.value, name.value);
            let finding = Finding::new(&RULE, name.span, said).label(format!("looks like the other {which}"));
            finding.note(unlike(&name.value, &first.value))
        };
        let help = format!("give one of them another {which}");
        found.push(finding.and(first.span, "first here").help(help).on(on));
    }
}
