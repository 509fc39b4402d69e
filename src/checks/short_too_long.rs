//! The short name stands on every panel and is spoken with the edition.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};

/// The short name stands on every panel and is spoken with the edition.
pub(super) const RULE: Rule = Rule::of_format("short-too-long", DOC);

const DOC: &str = r#"
Finds: a short name of more than 12 characters.
Costs: it would not fit the foot of a card beside the edition, where two stations compare.

Wrong:
```toml
[plan]
title = "Grayling County Communications Plan"
short = "GRAYLING COUNTY"   # short-too-long
team = "Grayling County Auxiliary Radio"
profile = "us"
invented = true
time-zone = "America/Denver"
```
Right: write `short = "GRAYLING"`.
"#;

/// Chosen by eye on the foot of a fold-8 panel, where the short name shares a line with the edition and the code.
const LONGEST: usize = 12;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(head) = &facts.plan.head else { return };
    let count = head.short.as_str().chars().count();
    if count > LONGEST {
        let what = format!("the short name \"{}\" has {count} characters; {LONGEST} are the most", head.short.value);
        found.push(Finding::new(&RULE, head.short.span, what).label("too long for the foot of a card"));
    }
}
