//! No name is a procedure word, and none has a word of distress in it.

use super::Facts;
use super::spoken::{has_words, names, said_or_read};
use crate::ground::{At, Finding, Findings, Rule, Subject, Words};

/// No name is a procedure word, and none has a word of distress in it.
pub(super) const RULE: Rule = Rule::warning(
    "name-is-proword",
    "procedure words in common use; common practice, no source; distress and urgency signals of ITU Radio Regulations, \
             Articles 32 and 33 (from memory)",
    DOC,
);

const DOC: &str = r#"
Finds: a spoken channel or net name or a tactical call that is a procedure word: Over, Out, Break, Roger and the like; and one with a
word of distress or urgency in it, in print as well: MAYDAY, PAN PAN, SOS and the like. Where the profile forbids such a word, `word-forbidden` says so.
Costs: half of what is said can be taken for a call, and a call to the net for a call of distress.

Wrong:
```toml
[[channel]]
id = "brk"
row = 2
name = "BREAK"
spoken = "Break"            # name-is-proword
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose another name, `spoken = "Tactical Six"`.
"#;

/// Words with a meaning of their own on the air.
const PROWORDS: [&str; 25] = [
    "acknowledge",
    "affirmative",
    "all after",
    "all before",
    "break",
    "clear",
    "copy",
    "correction",
    "figures",
    "fill",
    "go ahead",
    "i spell",
    "negative",
    "out",
    "over",
    "relay",
    "repeat",
    "roger",
    "say again",
    "stand by",
    "this is",
    "wait",
    "wilco",
    "word after",
    "word before",
];

/// Words that call for help: nobody may take a net's name for one of them.
const DISTRESS: [&str; 8] = ["mayday", "may day", "pan pan", "panpan", "sos", "s o s", "seelonce", "securite"];

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let is_forbidden = |word: &&&str| facts.profile.forbidden.iter().any(|other| has_words(other, word));
    let distress = |name: &str| DISTRESS.iter().find(|word| has_words(name, word)).filter(|word| !is_forbidden(word));
    for (name, on) in said_or_read(facts.plan, |name| distress(name).is_some()) {
        let word = distress(name.as_str()).map_or_else(String::new, |word| word.to_uppercase());
        found.push(finding(name, format!("\"{}\" has the word {word}, which calls for help", name.value), on));
    }
    let is_proword = |name: &str| PROWORDS.contains(&name.to_lowercase().as_str());
    for (name, on) in names(facts.plan).into_iter().filter(|(name, _)| is_proword(name.as_str())) {
        found.push(finding(name, format!("\"{}\" is a procedure word", name.value), on));
    }
}

fn finding(name: &At<Words>, what: String, on: Subject) -> Finding {
    Finding::new(&RULE, name.span, what).label("means something else on the air").help("choose another name").on(on)
}
