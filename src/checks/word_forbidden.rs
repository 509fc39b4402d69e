//! A name that is said on the air has no word that the country keeps for distress.

use super::Facts;
use super::spoken::{has_words, said_or_read};
use crate::ground::{At, Finding, Findings, Rule, Subject, Words};

/// A name that is said on the air has no word that the country keeps for distress.
pub(super) const RULE: Rule = Rule::error(
    "word-forbidden",
    "the profile; de: distress and urgency words are kept from the amateur service (second-hand)",
    DOC,
);

const DOC: &str = r#"
Finds: a spoken channel or net name or a tactical call with a word that the profile forbids, or a printed name of a channel or net, which people read aloud.
Costs: calling the net sounds like a call of distress.

Wrong:
```toml
[plan]
title = "Hochwasser 2027"
short = "HOCHWASSER"
team = "Beispielgruppe"
profile = "de"
invented = true
time-zone = "Europe/Berlin"

[[member]]
id = "qra"
call = "DA0QRA"
name = "Ines Varga"
class = "a"
confirmed = 2026-10-01

[[channel]]
id = "ruf"
row = 1
name = "RUF"
spoken = "Mayday Leitung"   # word-forbidden
simplex = "145.450 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose another name, `spoken = "Leitung"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let forbidden = |name: &str| facts.profile.forbidden.iter().find(|word| has_words(name, word));
    for (name, on) in said_or_read(facts.plan, |name| forbidden(name).is_some()) {
        let word = forbidden(name.as_str()).map_or("", String::as_str);
        found.push(finding(name, word, on));
    }
}

fn finding(name: &At<Words>, word: &str, on: Subject) -> Finding {
    Finding::new(&RULE, name.span, format!("\"{}\" has the word {word}, which is kept for distress", name.value))
        .label("would be said on the air")
        .help("choose another name")
        .on(on)
}
