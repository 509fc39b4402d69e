//! The edition's day lies in the years of the magnetic model.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::MODEL_YEARS;
use chrono::Datelike;

/// The edition's day lies in the years of the magnetic model.
pub(super) const RULE: Rule =
    Rule::warning("compass-model-ended", "World Magnetic Model WMM2025, valid to the end of 2029", DOC);

const DOC: &str = r#"
Finds: an order for a `distance-table` in an edition whose `valid-from` lies before 2025 or after 2029, for which this program's magnetic model is not made.
Costs: the sheet has true bearings alone: who walks by a compass goes astray by its declination.

Wrong:
```toml
[edition]
number = 7
issued = 2026-11-20
valid-from = 2030-01-03       # compass-model-ended
review-by = 2030-03-01
prepared-by = "qra"
approved-by = "qra"

[[document]]
id = "ways"
kind = "distance-table"
```
Right: a newer version of this program, with the model of those years; until then true bearings.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let order = facts.plan.documents.iter().find(|order| order.kind.as_str() == "distance-table");
    let year = edition.valid_from.value.as_date().year();
    let Some(order) = order.filter(|_| !(MODEL_YEARS.0..=MODEL_YEARS.1).contains(&year)) else { return };
    let what = format!("the magnetic model is for {} to {}, and the edition for {year}", MODEL_YEARS.0, MODEL_YEARS.1);
    found.push(
        Finding::new(&RULE, edition.valid_from.span, what)
            .label("outside its years")
            .and(order.kind.span, "has no magnetic bearings then")
            .help("take a newer version of this program, or work with true bearings")
            .on(crate::plan::subject(order)),
    );
}
