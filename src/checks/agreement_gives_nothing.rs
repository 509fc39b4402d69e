//! An agreement gives authority only where authority can be given.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;
use crate::tables::Authority;

/// An agreement gives authority only where authority can be given.
pub(super) const RULE: Rule = Rule::error(
    "agreement-gives-nothing",
    "the rows of the profile; us: 47 CFR 97.105, 97.403: nobody can lend an amateur privilege",
    DOC,
);

const DOC: &str = r#"
Finds: an agreement for the amateur service, for a service that needs none or that nobody of a team sends in, and one that names a channel of another service.
Costs: the plan shows a leave that does not exist.

Wrong:
```toml
[[agreement]]
id = "club"
with = "Ridge Repeater Club"
service = "amateur"         # agreement-gives-nothing
signed = 2026-01-10
expires = 2028-01-10
```
Right: leave it out. What a repeater's owner agrees to is no authority: write it as a `note`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for agreement in facts.plan.agreements.iter() {
        let service = &agreement.service;
        let why = match service.authority {
            Some(Authority::Class) => Some("amateur privileges are those of the control operator's own licence"),
            Some(Authority::Anybody) => Some("this service needs no authority beside a certified radio"),
            Some(Authority::Nobody) => Some("nobody of a team sends in this service"),
            _ => None,
        };
        if let Some(why) = why {
            let what =
                format!("the agreement with {} for the {} service gives nothing", agreement.with.value, service.value);
            let finding = Finding::new(&RULE, service.span, what).label("gives nothing").note(why);
            found.push(finding.help("leave the agreement out").on(subject(agreement)));
            continue;
        }
        for id in &agreement.channels {
            let Some(channel) = facts.plan.channels.get(id).filter(|channel| channel.service.value != service.value)
            else {
                continue;
            };
            let what = format!(
                "the agreement with {} is for the {} service, and channel {} is of the {} service",
                agreement.with.value, service.value, channel.name.value, channel.service.value
            );
            let finding = Finding::new(&RULE, id.span, what).label("of another service");
            let finding = finding.help(format!(
                "leave {} out, or write `service = \"{}\"` where it is given its frequency, if it is of that service",
                id.value, service.value
            ));
            found.push(finding.and(channel.service.span, "its service").on(subject(agreement)).on(subject(channel)));
        }
    }
}
