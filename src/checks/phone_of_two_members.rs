//! A number rings at one member.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, dialled_twice};
use crate::plan::{Member, Phone, subject};
use std::collections::BTreeSet;

/// A number rings at one member.
pub(super) const RULE: Rule = Rule::warning("phone-of-two-members", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: two members with one phone number, however it is written. It may be a household's: then accept it.
Costs: whoever calls one of them rings at somebody else, and one cannot be reached.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0102", confirmed = 2026-10-01 }]

[[member]]
id = "qsc"
call = "WZ7QSC"
name = "Abel Quist"
class = "general"
expires = 2030-04-01
phone = [{ number = "406-555-0102", confirmed = 2026-10-01 }]    # phone-of-two-members
```
Right: ask both, and write each one's own number.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let members = facts.plan.members.iter();
    let numbers =
        members.flat_map(|member| member.phones.iter().map(move |phone| ((member, phone), &phone.number.value)));
    let mut said: BTreeSet<(&Id, &Id)> = BTreeSet::new();
    for (one, two) in dialled_twice(numbers) {
        let ((first, own), (second, again)) = if one.0.id.value <= two.0.id.value { (one, two) } else { (two, one) };
        if first.id.value != second.id.value && said.insert((&first.id.value, &second.id.value)) {
            found.push(finding((first, own), (second, again)));
        }
    }
}

fn finding((first, own): (&Member, &Phone), (second, again): (&Member, &Phone)) -> Finding {
    let what = format!("{} and {} have one phone number", first.name.value, second.name.value);
    Finding::new(&RULE, again.number.span, what)
        .label("the same number")
        .and(own.number.span, "first here")
        .help("ask both and write each one's own number, or accept it where they share one")
        .on(subject(first))
        .on(subject(second))
}
