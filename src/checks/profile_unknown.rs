//! The country profile must be one that this program has.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, nearest};
use crate::tables::is_profile_file;

/// The country profile must be one that this program has.
pub(super) const RULE: Rule = Rule::of_format("profile-unknown", DOC);

const DOC: &str = r#"
Finds: a profile that this program does not have.
Costs: nothing could be checked against the law.

Wrong:
```toml
[plan]
title = "Grayling County Communications Plan"
short = "GRAYLING"
team = "Grayling County Auxiliary Radio"
profile = "usa"             # profile-unknown
time-zone = "America/Denver"
```
Right: write `profile = "us"`.
invented = true
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(head) = &facts.plan.head else { return };
    // A file of the team is reported where it is read.
    if facts.tables.profile(head.profile.as_str()).is_some() || is_profile_file(head.profile.as_str()) {
        return;
    }
    let known: Vec<&str> = facts.tables.profiles.ids().collect();
    let what = format!("no profile is called \"{}\"", head.profile.value);
    let finding = Finding::new(&RULE, head.profile.span, what).label("not a profile");
    found.push(match nearest(head.profile.as_str(), known.iter().copied()) {
        Some(name) => finding.did_you_mean(name),
        None => finding
            .help(format!("write one of: {}, or the name of a .toml file in the plan's folder", known.join(", "))),
    });
}
