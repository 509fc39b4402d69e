//! A duty ends after it begins.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Clock, Period};

/// A duty ends after it begins.
pub(super) const RULE: Rule = Rule::of_format("duty-times-out-of-order", DOC);

const DOC: &str = r#"
Finds: a duty whose `to` is not after its `from` by the time that passes: where clocks go forward, none does from 02:30 to 03:30.
Costs: nobody knows when that post is stood.

Wrong:
```toml
[[post]]
id = "desk"
name = "Operations desk"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 18:00"
to = "2026-12-05 06:00"     # duty-times-out-of-order
```
Right: a night ends on the next day: `to = "2026-12-06 06:00"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let clock = Clock::of(facts.plan);
    for duty in &facts.plan.duties {
        let Period { from, to } = clock.period(duty.from.value, duty.to.value);
        if from < to {
            continue;
        }
        let (begins, ends, at) = (duty.from.value, duty.to.value, &duty.post.value);
        // Between two times that clocks show one after the other no time may pass: they go forward.
        let is_leapt = begins.as_naive() < ends.as_naive();
        let what = match from == to {
            _ if is_leapt => format!("no time passes in a duty at {at} from {begins} to {ends}: the clocks change"),
            true => format!("a duty at {at} ends at {ends}, as it begins"),
            false => format!("a duty at {at} ends at {ends}, before it begins at {begins}"),
        };
        let help = match is_leapt {
            true => format!("clocks show {} and {} then: write a later `to`", clock.local(from), clock.local(to)),
            false => "a night ends on the next day: write that day".to_owned(),
        };
        let finding = Finding::new(&RULE, duty.to.span, what).label("too early");
        found.push(finding.and(duty.from.span, "begins here").help(help));
    }
}
