//! A channel has its frequency before anything is printed.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Subject};
use crate::plan::{Channel, Record};

/// A channel has its frequency before anything is printed.
pub(super) const RULE: Rule = Rule::of_format("channel-not-allotted", DOC);

const DOC: &str = r#"
Finds: a channel that still wants a frequency of a pool: `simplex = "allot"`.
Costs: a row without a number to set.

Wrong:
```toml
[[pool]]
id = "simplex"
stretch = "146.415 MHz to 146.595 MHz"
step = "15 kHz"

[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "allot"           # channel-not-allotted
pool = "simplex"
verified = { on = 2026-10-01, by = "qra" }
```
Right: `fieldsheaf allot` proposes one, `fieldsheaf allot --write` writes it there.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for wish in &facts.plan.wishes {
        let what = format!("channel {} still wants a frequency", wish.name().value);
        found.push(
            Finding::new(&RULE, wish.word, what)
                .label("to be chosen")
                .and(wish.pool.span, "from this pool")
                .help("run `fieldsheaf allot` for a proposal, with `--write` to put it here")
                .on(Subject::new(Channel::KIND, wish.id())),
        );
    }
}
