//! Who holds a lapsed licence must not be sent out as an operator.

use super::Facts;
use crate::ground::{At, Day, Finding, Findings, Rule};
use crate::plan::{Member, subject};
use crate::reckon::Term;
use crate::tables::Service;
use std::sync::Arc;

/// Who holds a lapsed licence must not be sent out as an operator.
pub(super) const RULE: Rule = Rule::error(
    "licence-expired",
    "us: 47 CFR 97.21; 47 CFR 1.934 (a timely renewal keeps the authority; from memory)",
    DOC,
);

const DOC: &str = r#"
Finds: a member whose licence ends before the edition counts, without a renewal filed in time: not after that day, and not more than a year before it, which was for an earlier term.
Costs: somebody transmits without a licence, on the team's paper.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2026-11-30        # licence-expired
confirmed = 2026-10-01
```
Right: write the new day, add `renewal-filed` with a day not after `expires`, or leave `class` out for a helper who does not transmit.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    for (member, licence) in licences(facts) {
        if !licence.term.has_ended(edition.valid_from.value) {
            continue;
        }
        let what = format!(
            "the {}licence of {} ends on {}, before the edition counts on {}",
            licence.words, member.name.value, licence.expires.value, edition.valid_from.value
        );
        let finding = Finding::new(&RULE, licence.expires.span, what).label("ends here").on(subject(member));
        let finding = match licence.term.filed_in_vain() {
            Some((filed, why)) => finding.and(filed.span, why),
            None => finding,
        };
        found.push(
            finding
                .and(edition.valid_from.span, "the edition counts from here")
                .help("write the day of the new licence, or `renewal-filed` with a day not after `expires`"),
        );
    }
}

/// A licence with an end.
pub(super) struct Ending<'a> {
    /// `GMRS ` for one of another service, nothing for an amateur one.
    pub words: String,
    /// The service in which it lets one send.
    pub service: &'a Arc<Service>,
    /// Its last day.
    pub expires: At<Day>,
    /// The same with what was done about it.
    pub term: Term,
}

/// Every licence of the plan that says when it ends, with its holder.
pub(super) fn licences(facts: Facts<'_>) -> Vec<(&Member, Ending<'_>)> {
    let mut all = Vec::new();
    for member in facts.plan.members.iter() {
        if let (Some(_), Some(expires)) = (&member.class, member.expires) {
            let service = &facts.profile.amateur;
            all.push((member, Ending { words: String::new(), service, expires, term: Term::of_member(member) }));
        }
        for licence in &member.licences {
            if let Some(expires) = licence.expires {
                let service = &licence.service.value;
                all.push((member, Ending { words: format!("{service} "), service, expires, term: Term::of(licence) }));
            }
        }
    }
    all
}
