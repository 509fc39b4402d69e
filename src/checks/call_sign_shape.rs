//! A call sign has a shape that its country gives.

use super::Facts;
use super::call_signs::calls;
use crate::ground::{Finding, Findings, Rule};

/// A call sign has a shape that its country gives.
pub(super) const RULE: Rule = Rule::warning(
    "call-sign-shape",
    "the rows of the profile; us: call sign groups of the FCC (memory; second-hand for parts)",
    DOC,
);

const DOC: &str = r#"
Finds: an amateur call sign that has none of the shapes that the profile's country gives.
Costs: a letter too many or a digit for a letter, said on the air all night.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSBX"            # call-sign-shape
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
```
Right: write the call sign as the licence has it, `call = "WZ7QSB"`. A guest from abroad is accepted by name.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let forms = &facts.profile.call_forms;
    if forms.is_empty() {
        return;
    }
    for (call, on) in calls(facts.plan) {
        if forms.iter().any(|form| form.fits(&call.value)) {
            continue;
        }
        let country = &facts.profile.name;
        let what = format!("{} has no shape of an amateur call sign of {country}", call.value);
        found.push(
            Finding::new(&RULE, call.span, what)
                .label("no such shape")
                .note("prefix, digit, letters: one or two, one, one to three, in the combinations of the call sign groups")
                .help("write it as the licence has it")
                .on(on),
        );
    }
}
