//! A contact card is for calling: most of its rows have a number.

use super::Facts;
use crate::ground::{Audience, Finding, Findings, Rule};
use crate::plan::{Plan, subject};
use crate::reckon::{Seen, contact_seen, seen};

/// A contact card is for calling: most of its rows have a number.
pub(super) const RULE: Rule = Rule::warning("contacts-mostly-hidden", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a contact card on which more than half of the rows say "not on this copy": their readers may know the names, and the numbers are closed.
Costs: a card full of names that nobody can call; whoever needs a number looks it up elsewhere.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "general"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0102", audience = "coordinator", confirmed = 2026-10-01 }]

[[member]]
id = "qrc"
call = "WZ7QRC"
name = "Amara Osei"
class = "general"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0103", audience = "coordinator", confirmed = 2026-10-01 }]

[[document]]
id = "contacts"
kind = "contact-card"
audience = "leads"           # contacts-mostly-hidden
```
Right: let these readers have the numbers, `audience = "leads"`, or close the names as well, `name-audience = "coordinator"`: then one line says
how many are left out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for order in facts.plan.documents.iter().filter(|order| order.kind.as_str() == "contact-card") {
        let rows = rows(facts.plan, &order.audience.value);
        let closed = rows.iter().filter(|row| **row == Seen::NameAlone).count();
        if closed * 2 <= rows.len() {
            continue;
        }
        let what = format!("{closed} of {} rows of {} say \"not on this copy\"", rows.len(), order.id.value);
        found.push(
            Finding::new(&RULE, order.audience.span, what)
                .label("these readers may not have the numbers")
                .help("give the numbers this audience, or close the names too with `name-audience`")
                .on(subject(order)),
        );
    }
}

/// The rows that readers of `audience` see.
fn rows(plan: &Plan, audience: &Audience) -> Vec<Seen> {
    let members = plan.members.iter().map(|member| seen(member, audience));
    let contacts = plan.places.iter().flat_map(|place| &place.contacts).filter(|one| !one.phone.value.is_withheld());
    let all = members.chain(contacts.map(|contact| contact_seen(contact, audience)));
    all.filter(|row| *row != Seen::Hidden).collect()
}
