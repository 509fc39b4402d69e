//! All sites have one edition of a form.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Subject};
use crate::plan::HeldForm;
use std::collections::BTreeMap;

/// All sites have one edition of a form.
pub(super) const RULE: Rule =
    Rule { waivable: true, ..Rule::error("form-editions-differ", "common practice, no source", DOC) };

const DOC: &str = r#"
Finds: two `[[held-form]]` of one form with different editions; where the form is one of the plan's own, an edition that is not the one it prints.
Costs: "line 4" is the number of beds on one sheet and the number of staff on the other, and both ends believe what they heard.

Wrong:
```toml
[[place]]
id = "north-high"
code = "NHS"
tactical = "North High"
kind = "shelter"
visited-on = 2026-09-01

[[place]]
id = "mercy"
code = "MGH"
tactical = "Mercy General"
kind = "other"
visited-on = 2026-09-01

[[held-form]]
place = "north-high"
form = "bed-report"
edition = "4"

[[held-form]]
place = "mercy"
form = "bed-report"
edition = "3"               # form-editions-differ
```
Right: take the new edition to both sites and write what lies there, or accept it with a reason and a day.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let mut first: BTreeMap<&str, &HeldForm> = BTreeMap::new();
    for held in &plan.held_forms {
        let printed = plan.forms.named(&held.form.value);
        let (edition, span, whose) = match (printed, first.get(held.form.value.as_str())) {
            (Some(form), _) => (form.edition.value.as_str(), form.edition.span, "the plan prints".to_owned()),
            (None, Some(other)) => {
                (other.edition.value.as_str(), other.edition.span, format!("{} has", other.place.value))
            }
            (None, None) => {
                first.insert(held.form.value.as_str(), held);
                continue;
            }
        };
        if edition == held.edition.value.as_str() {
            continue;
        }
        let place = plan.places.get(&held.place.value);
        let place = place.map_or_else(|| held.place.value.to_string(), |place| place.tactical.value.to_string());
        let what = format!(
            "{place} has edition {} of the form {}, and {whose} edition {edition}",
            held.edition.value, held.form.value
        );
        let finding = Finding::new(&RULE, held.edition.span, what).label("is another edition").and(span, "the other");
        let finding = finding.help("take one edition to all sites, then write it");
        found.push(finding.on(Subject::new("place", &held.place.value)).on(Subject::new("form", &held.form.value)));
    }
}
