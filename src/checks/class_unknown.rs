//! A member's licence class must be one of the profile's.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, nearest};
use crate::plan::subject;

/// A member's licence class must be one of the profile's.
pub(super) const RULE: Rule = Rule::error("class-unknown", "the rows of the profile; us: 47 CFR 97.9, 97.301", DOC);

const DOC: &str = r#"
Finds: a licence class that the profile does not have.
Costs: nobody could say what the member may send.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Abel Quist"
class = "generel"           # class-unknown
expires = 2030-04-01
confirmed = 2026-10-01
```
Right: write `class = "general"`; an unlicensed helper has `class = "none"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let known: Vec<&str> = facts.profile.classes.iter().map(|class| class.id.as_str()).collect();
    for member in facts.plan.members.iter() {
        let Some(class) = &member.class else { continue };
        if known.contains(&class.as_str()) {
            continue;
        }
        let what = format!("no licence class of profile {} is called \"{}\"", facts.profile.id, class.value);
        let finding = Finding::new(&RULE, class.span, what).label("not a class").on(subject(member));
        let meant = meant(&class.as_str().to_lowercase(), &known);
        found.push(match meant.or_else(|| nearest(&class.as_str().to_lowercase(), known.iter().copied())) {
            Some(name) => finding.did_you_mean(name),
            None => finding.help(format!("write one of: {}, none", known.join(", "))),
        });
    }
}

/// The one class of which `written` is the beginning, as "tech", or that it has among its words, as "amateur extra".
fn meant<'a>(written: &str, known: &[&'a str]) -> Option<&'a str> {
    let is_meant = |class: &&'a str| {
        let is_short = written.chars().count() >= 3 && class.starts_with(written);
        is_short || written.split_whitespace().any(|word| word == *class)
    };
    let mut meant = known.iter().copied().filter(is_meant);
    let only = meant.next()?;
    meant.next().is_none().then_some(only)
}
