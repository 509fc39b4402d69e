//! What of private numbers and addresses a paper shows: found in its own text, so that it is what the paper says and not what it might.

use crate::audience::{View, view};
use crate::checks::CheckedPlan;
use crate::compose::NumberOf;
use crate::ground::{Audience, Private, Words};
use std::collections::{BTreeMap, BTreeSet};

/// Most figures of one number: E.164 has 15, and an extension comes behind it.
const MOST_FIGURES: usize = 20;

/// The private numbers and addresses of a plan, by what is looked for in a text: the figures of a number, an address in small letters.
#[derive(Default)]
pub(crate) struct PrivateNumbers {
    numbers: BTreeMap<String, BTreeSet<NumberOf>>,
    addresses: BTreeMap<String, BTreeSet<NumberOf>>,
}

impl PrivateNumbers {
    /// Of a plan, all of them.
    pub fn of(checked: &CheckedPlan) -> Self {
        let (all, mut known) = (view(checked, Audience::Coordinator), Self::default());
        let plan = checked.plan();
        for member in plan.members.iter() {
            let whose = NumberOf::Member(member.id.value.clone());
            member.phones.iter().for_each(|phone| known.number(&all, &phone.number.value, &whose));
            if let Some(address) = member.email.as_ref().and_then(|email| all.open(&email.value)) {
                known.addresses.entry(address.as_str().to_lowercase()).or_default().insert(whose);
            }
        }
        for place in plan.places.iter() {
            for (at, contact) in place.contacts.iter().enumerate() {
                known.number(&all, &contact.phone.value, &NumberOf::Contact(place.id.value.clone(), at));
            }
        }
        known
    }

    fn number(&mut self, all: &View<'_>, number: &Private<Words>, whose: &NumberOf) {
        let figures = all.open(number).map(|words| words.as_str().chars().filter(char::is_ascii_digit).collect());
        if let Some(figures) = figures.filter(|figures: &String| !figures.is_empty()) {
            self.numbers.entry(figures).or_default().insert(whose.clone());
        }
    }

    /// Those that a text shows.
    pub fn shown(&self, text: &str) -> BTreeSet<NumberOf> {
        let mut shown = BTreeSet::new();
        for line in text.lines().filter(|_| !self.numbers.is_empty() || !self.addresses.is_empty()) {
            let mut before = None;
            for (at, letter) in line.char_indices() {
                let begins = letter.is_ascii_digit() && !before.is_some_and(|c: char| c.is_ascii_digit());
                before = Some(letter);
                if begins {
                    self.at(line.get(at..).unwrap_or_default(), &mut shown);
                }
            }
            for word in line.split(|c: char| c.is_whitespace() || matches!(c, '<' | '>' | ',' | ';' | '(' | ')')) {
                let word = word.rsplit_once(':').map_or(word, |(_, address)| address);
                if word.contains('@') {
                    shown.extend(self.addresses.get(&word.to_lowercase()).into_iter().flatten().cloned());
                }
            }
        }
        shown
    }

    /// The numbers that begin a text, whatever parts their figures.
    fn at(&self, text: &str, shown: &mut BTreeSet<NumberOf>) {
        let mut figures = String::new();
        let parts = |c: &char| c.is_ascii_digit() || matches!(c, ' ' | '\u{a0}' | '-' | '.' | '(' | ')' | '/');
        for figure in text.chars().take_while(parts).filter(char::is_ascii_digit).take(MOST_FIGURES) {
            figures.push(figure);
            shown.extend(self.numbers.get(&figures).into_iter().flatten().cloned());
        }
    }
}
