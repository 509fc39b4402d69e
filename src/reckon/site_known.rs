//! What the plan knows of a place: a key that is left out says nothing, and one whose words say "unknown" says no more.

use crate::ground::{At, Words};
use crate::plan::{Place, PlaceKind};

/// The words, where they tell anything: not where they are left out, nor where they say that nobody knows.
#[must_use]
pub fn known(words: Option<&At<Words>>) -> Option<&At<Words>> {
    words.filter(|words| !says_unknown(words.as_str()))
}

/// Whether words say that nobody knows: "unknown", "connector unknown", "not known", "TBD", "?".
fn says_unknown(words: &str) -> bool {
    let plain = words.to_lowercase();
    let all: Vec<&str> = plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    match &*all {
        [] | ["tbd" | "tba" | "na"] => true,
        // More words say something beside it.
        [.., "unknown"] | ["unknown", ..] | [.., "not", "known"] => all.len() <= 3,
        _ => false,
    }
}

/// Whether words say that there is none.
#[must_use]
pub fn says_none(words: Option<&At<Words>>) -> bool {
    let is_none = |words: &&At<Words>| matches!(words.as_str().trim().to_lowercase().as_str(), "none" | "no");
    words.filter(is_none).is_some()
}

/// Whether nobody is there to be asked.
#[must_use]
pub fn is_unstaffed(place: &Place) -> bool {
    place.kind.value == PlaceKind::RepeaterSite
}

/// Whether somebody sits there who can be asked: at a place of another kind only where the plan names whom to ask.
#[must_use]
pub fn has_desk(place: &Place) -> bool {
    match place.kind.value {
        PlaceKind::RepeaterSite => false,
        PlaceKind::Other => !place.contacts.is_empty(),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::says_unknown;

    #[test]
    fn words_that_say_nothing_are_told_from_those_that_do() {
        for nothing in ["unknown", "Unknown", "connector unknown", "not known", "?", "???", "-", "TBD", "unknown yet"] {
            assert!(says_unknown(nothing), "{nothing}");
        }
        for something in
            ["N female", "none", "Panel R2", "Door 3 (code known to the desk)", "N, female or male unknown"]
        {
            assert!(!says_unknown(something), "{something}");
        }
    }
}
