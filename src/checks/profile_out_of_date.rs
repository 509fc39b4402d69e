//! A profile must not be past the day by which somebody had to look for changes.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};

/// A profile must not be past the day by which somebody had to look for changes.
pub(super) const RULE: Rule = Rule::warning("profile-out-of-date", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: an edition that is issued after the day by which somebody had to look whether the rules changed.
Costs: superseded rules stay in print for years; the 60 m channels of 2012 still circulate.

Wrong:
```toml
[edition]
number = 7
issued = 2029-11-20         # profile-out-of-date
valid-from = 2029-12-01
review-by = 2030-03-01
prepared-by = "qra"
approved-by = "qra"
```
Right: use a newer version of this program, or look the rules up and accept the finding with your reason.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let profile = facts.profile;
    if edition.issued.value <= profile.review_by {
        return;
    }
    let what = format!(
        "issued on {}, after {}, when the rules of profile {} had to be looked at again",
        edition.issued.value, profile.review_by, profile.id
    );
    found.push(
        Finding::new(&RULE, edition.issued.span, what)
            .label("later than the rules were checked for")
            .note(format!("{}, looked for changes on {}", profile.rule_set, profile.checked_on))
            .help(format!(
                "take a newer version of this program; there is none: look up what changed in {} since {}, and accept this with what you found \
                 (`--format long` prints the record)",
                profile.rule_set, profile.checked_on
            )),
    );
}
