//! A licence should outlast the edition.

use super::Facts;
use super::licence_expired::licences;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A licence should outlast the edition.
pub(super) const RULE: Rule = Rule::warning("licence-ends-in-edition", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a member whose licence ends after the edition begins to count and before it is reviewed, with no renewal filed in time.
Costs: from that day on the roster names an operator who may not transmit.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2027-02-01        # licence-ends-in-edition
confirmed = 2026-10-01
```
Right: renew, then write the new day; or accept it and re-issue before that day.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    for (member, licence) in licences(facts) {
        let expires = licence.expires;
        let is_within = expires.value >= edition.valid_from.value && expires.value < edition.review_by.value;
        if !is_within || licence.term.last_day().is_none() {
            continue;
        }
        let what = format!(
            "the {}licence of {} ends on {}, before the review on {}",
            licence.words, member.name.value, expires.value, edition.review_by.value
        );
        let finding = Finding::new(&RULE, expires.span, what).label("ends while this edition counts");
        let finding = match licence.term.filed_in_vain() {
            Some((filed, why)) => finding.and(filed.span, why),
            None => finding,
        };
        found.push(
            finding
                .and(edition.review_by.span, "reviewed by this day")
                .help("renew and write the new day, or `renewal-filed` with a day not after `expires`")
                .on(subject(member)),
        );
    }
}
