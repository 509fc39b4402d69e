//! A call sign is of the group of its holder's class or of a lower one.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A call sign is of the group of its holder's class or of a lower one.
pub(super) const RULE: Rule = Rule::warning(
    "call-sign-over-class",
    "47 CFR 97.19(d): a call sign of the group of the class held, or of a lower one (groups from memory)",
    DOC,
);

const DOC: &str = r#"
Finds: a member whose call sign belongs to a group that is given to higher classes than the one written.
Costs: the class is wrong, or the call sign is; the card then lists privileges that the member does not have, or hides some.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7SB"              # call-sign-over-class
name = "Abel Quist"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
```
Right: write the class that the licence shows, or the call sign as it has it. A call sign kept from an earlier class is accepted by name.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for member in facts.plan.members.iter() {
        let (Some(call), Some(class)) = (&member.call, &member.class) else { continue };
        let fitting: Vec<_> = facts.profile.call_forms.iter().filter(|form| form.fits(&call.value)).collect();
        let is_given = fitting.iter().any(|form| form.classes.iter().any(|known| known == class.as_str()));
        // No shape at all and an unknown class are findings of their own.
        let Some(form) = fitting.first().filter(|_| !is_given && facts.profile.class(class.as_str()).is_some()) else {
            continue;
        };
        let what = format!("{} is a call sign of {}, which a {} is not given", call.value, form.name, class.value);
        found.push(
            Finding::new(&RULE, call.span, what)
                .label(form.name.clone())
                .and(class.span, "the class")
                .note(format!("{} ({}): given to {}", form.cite.source, form.cite.confidence, form.classes.join(", ")))
                .help("write the class and the call sign as the licence has them")
                .on(subject(member)),
        );
    }
}
