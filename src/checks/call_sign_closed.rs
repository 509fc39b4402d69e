//! A call sign is one that somebody can hold.

use super::Facts;
use super::call_signs::calls;
use crate::ground::{Finding, Findings, Rule};

/// A call sign is one that somebody can hold.
pub(super) const RULE: Rule = Rule::warning(
    "call-sign-closed",
    "the rows of the profile; us: list of call signs not available to amateur stations (second-hand)",
    DOC,
);

const DOC: &str = r#"
Finds: an amateur call sign that its country gives to nobody. In a plan that says of itself that it is `invented`, such call signs are wanted.
Costs: a wrong letter, or an example that was left in the plan of a real team.

Wrong:
```toml
[plan]
title = "Grayling County Communications Plan"
short = "GRAYLING"
team = "Grayling County Auxiliary Radio"
profile = "us"
time-zone = "America/Denver"

[[member]]
id = "sos"
call = "WZ7SOS"             # call-sign-closed
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
```
Right: write the call sign as the licence has it; in a demonstration, `invented = true` in `[plan]`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    if facts.plan.head.as_ref().is_none_or(|head| head.is_invented) {
        return;
    }
    for (call, on) in calls(facts.plan) {
        let Some(row) = facts.profile.closed_calls.iter().find(|row| row.holds(&call.value)) else { continue };
        let what = format!("{} is given to nobody: {}", call.value, row.reason);
        found.push(
            Finding::new(&RULE, call.span, what)
                .label("nobody's call sign")
                .note(format!("{} ({})", row.cite.source, row.cite.confidence))
                .help("write it as the licence has it, or `invented = true` in [plan] of a demonstration")
                .on(on),
        );
    }
}
