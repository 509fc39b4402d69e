//! A site's no is written in the one word that this program takes for one.

use super::Facts;
use super::spoken::words;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// A site's no is written in the one word that this program takes for one.
pub(super) const RULE: Rule = Rule::of_format("transmit-denial-unclear", DOC);

const DOC: &str = r#"
Finds: a place whose `transmit` says no in other words than `allowed = "nowhere"`: "none", "not allowed", "forbidden", or nowhere with more around it.
Costs: any other word is printed as where one may transmit, and the place's people send.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
transmit = { allowed = "not allowed", agreed-by = "Clinical engineering", on = 2026-10-04 }   # transmit-denial-unclear
```
Right: `allowed = "nowhere"` where the site said no; else where it may be sent, `allowed = "roof only"`.
"#;

/// Words that deny.
const DENIALS: &[&str] = &[
    "BANNED",
    "CANNOT",
    "DECLINED",
    "DENIED",
    "DISALLOWED",
    "FORBIDDEN",
    "KEINE",
    "KEIN",
    "NEIN",
    "NEVER",
    "NICHT",
    "NIL",
    "NIRGENDS",
    "NO",
    "NONE",
    "NOT",
    "NOTHING",
    "NOWHERE",
    "OFF",
    "PROHIBITED",
    "REFUSED",
    "VERBOTEN",
];

/// Words that say nothing of where.
const FILLERS: &[&str] = &[
    "A",
    "ALL",
    "ALLOWED",
    "ANY",
    "ANYTHING",
    "ANYWHERE",
    "AT",
    "BE",
    "BY",
    "DO",
    "ERLAUBT",
    "HERE",
    "IN",
    "IS",
    "IT",
    "LIMITS",
    "MAY",
    "MUST",
    "ON",
    "PERMISSION",
    "PERMITTED",
    "PLEASE",
    "RADIO",
    "RADIOS",
    "SEND",
    "SENDING",
    "SENDEN",
    "SITE",
    "STRICTLY",
    "THE",
    "THERE",
    "THIS",
    "TO",
    "TRANSMISSION",
    "TRANSMISSIONS",
    "TRANSMIT",
    "TRANSMITTING",
    "USE",
    "WHERE",
    "WHOLE",
];

/// Whether a text reads as a no: nothing in it says where, or it has the word itself among others.
fn denies(allowed: &str) -> bool {
    let words = words(allowed);
    let has = |list: &[&str], word: &String| list.contains(&word.as_str());
    let says_nothing = words.iter().all(|word| has(DENIALS, word) || has(FILLERS, word));
    let denial = words.iter().any(|word| has(DENIALS, word));
    words.iter().any(|word| word == "NOWHERE") || (says_nothing && denial)
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Some(limit) = place.transmit.as_ref().filter(|limit| !limit.is_nowhere()) else { continue };
        let allowed = &limit.allowed;
        if !denies(allowed.as_str()) {
            continue;
        }
        let what = format!(
            "at {} transmitting is allowed \"{}\", which reads as a no and would be printed as a permit",
            place.tactical.value, allowed.value
        );
        found.push(
            Finding::new(&RULE, allowed.span, what)
                .label("yes or no?")
                .help("write `allowed = \"nowhere\"` where the site said no, or say where one may transmit, as \"roof only\"")
                .on(subject(place)),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::denies;

    #[test]
    fn a_no_in_any_words_is_told_from_a_permit() {
        for no in [
            "none",
            "None.",
            "not allowed",
            "NO",
            "no transmitting",
            "not permitted at all",
            "must not transmit here",
            "forbidden",
            "nowhere in the building",
            "nicht erlaubt",
            "off limits",
            "never",
        ] {
            assert!(denies(no), "{no}");
        }
        for permit in [
            "roof only",
            "not in the ICU, roof only",
            "B-114 and roof only",
            "no restriction",
            "anywhere",
            "car park, not the lobby",
            "on the roof",
            "here",
        ] {
            assert!(!denies(permit), "{permit}");
        }
    }
}
