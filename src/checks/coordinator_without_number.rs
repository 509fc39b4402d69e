//! Whoever holds the team's contact card can call the coordinator.

use super::Facts;
use super::spoken::has_words;
use crate::ground::{Audience, Finding, Findings, Rule};
use crate::plan::{DocumentOrder, Member, Plan, subject};
use crate::reckon::{Seen, seen};

/// Whoever holds the team's contact card can call the coordinator.
pub(super) const RULE: Rule = Rule::warning("coordinator-without-number", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a contact card for the audience team without a number of any coordinator: a member with that word in `role` or, where there is none,
whoever prepared the edition.
Costs: when the nets fail, nobody on the team knows whom to call.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "general"
expires = 2030-04-01
role = ["Coordinator"]
phone = [{ number = "+1 406 555 0102", audience = "leads", confirmed = 2026-10-01 }]

[[document]]
id = "contacts"
kind = "contact-card"
audience = "team"            # coordinator-without-number
```
Right: add a number that the team may read, `{ number = "+1 406 555 0103", audience = "team", confirmed = 2026-10-01 }`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let coordinators = coordinators(facts.plan);
    let Some(first) = coordinators.first() else { return };
    let is_team =
        |order: &&DocumentOrder| order.kind.as_str() == "contact-card" && order.audience.value == Audience::Team;
    for order in facts.plan.documents.iter().filter(is_team) {
        if coordinators.iter().any(|member| seen(member, &order.audience.value) == Seen::Number) {
            continue;
        }
        let what = format!("{} for the team has no number of its coordinator {}", order.id.value, first.name.value);
        let mut finding = Finding::new(&RULE, order.audience.span, what).label("without the coordinator's number");
        for member in &coordinators {
            finding = finding.and(member.name.span, "who leads").on(subject(*member));
            for phone in &member.phones {
                finding = finding.and(phone.number.span, "not for the team");
            }
        }
        let help = format!("add a number of {} with `audience = \"team\"`", first.name.value);
        found.push(finding.help(help).on(subject(order)));
    }
}

/// Who is called coordinator; where nobody is, who prepared the edition.
fn coordinators(plan: &Plan) -> Vec<&Member> {
    let is_called = |member: &&Member| member.roles.iter().any(|role| has_words(role.as_str(), "coordinator"));
    let called: Vec<&Member> = plan.members.iter().filter(is_called).collect();
    let prepared = || plan.edition.as_ref().and_then(|edition| plan.members.get(&edition.prepared_by.value));
    if called.is_empty() { prepared().into_iter().collect() } else { called }
}
