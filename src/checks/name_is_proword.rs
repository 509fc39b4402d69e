//! No name is a procedure word.

use super::spoken::names;
use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// No name is a procedure word.
pub(super) const RULE: Rule = Rule {
    name: "name-is-proword",
    severity: Severity::Warning,
    waivable: true,
    source: "procedure words in common use; common practice, no source",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a spoken channel or net name or a tactical call that is a procedure word: Over, Out, Break, Roger and the like.
Costs: half of what is said can be taken for a call.

Wrong:
```toml
[[channel]]
id = "brk"
slot = 2
name = "BREAK"
spoken = "Break"            # name-is-proword
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose another name, `spoken = "Tactical Six"`.
"#;

/// Words with a meaning of their own on the air.
const PROWORDS: [&str; 21] = [
    "acknowledge",
    "affirmative",
    "all after",
    "all before",
    "break",
    "clear",
    "copy",
    "correction",
    "fill",
    "go ahead",
    "negative",
    "out",
    "over",
    "relay",
    "repeat",
    "roger",
    "say again",
    "stand by",
    "wait",
    "wilco",
    "word after",
];

fn check(facts: Facts<'_>, found: &mut Findings) {
    for (name, on) in names(facts.plan) {
        let said = name.as_str().to_lowercase();
        if !PROWORDS.contains(&said.as_str()) {
            continue;
        }
        found.push(
            Finding::new(&RULE, name.span, format!("\"{}\" is a procedure word", name.value))
                .label("means something else on the air")
                .help("choose another name")
                .on(on),
        );
    }
}
