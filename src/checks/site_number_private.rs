//! The number of a function at a place is nobody's own.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Contact, Member, Phone, Place, subject};

/// The number of a function at a place is nobody's own.
pub(super) const RULE: Rule = Rule::warning("site-number-private", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a `contact` of a place whose number is a member's own, however it is written.
No sheet prints it: the site's sheets say "ask the coordinator".
Costs: under a function's name a private number reaches readers from whom the member's own row hides it; and whoever has the function next
week does not answer there.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "general"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0102", confirmed = 2026-10-01 }]

[[place]]
id = "alder"
code = "ALD"
tactical = "Alder General"
kind = "other"
visited-on = 2026-10-01
contact = [{ role = "Duty desk", phone = "406-555-0102", audience = "team", confirmed = 2026-10-01 }]   # site-number-private
```
Right: ask the place for the number of the desk itself, `phone = "+1 406 555 0150"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        for contact in place.contacts.iter().filter(|contact| contact.phone.value.is_withheld()) {
            let mut own = facts.plan.members.iter().filter_map(|member| Some((member, same(contact, member)?)));
            if let Some(own) = own.next() {
                found.push(finding(place, contact, own));
            }
        }
    }
}

fn same<'a>(contact: &Contact, member: &'a Member) -> Option<&'a Phone> {
    member.phones.iter().find(|phone| phone.number.value.dials_as(&contact.phone.value))
}

fn finding(place: &Place, contact: &Contact, (member, phone): (&Member, &Phone)) -> Finding {
    let (role, tactical, name) = (&contact.role.value, &place.tactical.value, &member.name.value);
    Finding::new(&RULE, contact.phone.span, format!("the number of {role} at {tactical} is that of {name}"))
        .label("a private number under a public function")
        .and(phone.number.span, "the member's own")
        .note("no sheet prints it: the site's sheets say \"ask the coordinator\"")
        .help("ask the place for the number of the function itself")
        .on(subject(place))
        .on(subject(member))
}
