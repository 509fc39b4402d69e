//! Values that only their audience may read.

use super::{Audience, Words};
use std::collections::BTreeSet;
use unicode_normalization::UnicodeNormalization;

/// A value that cannot be printed, serialised or formatted: only a [`Pass`] of a high enough audience opens it.
///
/// ```compile_fail
/// let phone = fieldsheaf::ground::Private::new("555-0100", fieldsheaf::ground::Audience::Team);
/// println!("{phone:?}");
/// ```
#[derive(Clone, PartialEq, Eq)]
pub struct Private<T> {
    value: T,
    audience: Audience,
    is_withheld: bool,
}

impl<T> Private<T> {
    /// Closes a value for all but `audience` and those above it.
    pub const fn new(value: T, audience: Audience) -> Self {
        Self { value, audience, is_withheld: false }
    }

    /// Closes it for everybody: nobody opens it again.
    pub const fn withhold(&mut self) {
        self.is_withheld = true;
    }

    /// Whether it is closed for everybody.
    pub const fn is_withheld(&self) -> bool {
        self.is_withheld
    }

    /// Who may read it.
    pub const fn audience(&self) -> &Audience {
        &self.audience
    }

    /// The value, when the holder of `pass` may read it.
    pub fn open(&self, pass: &Pass) -> Option<&T> {
        (!self.is_withheld && pass.0.may_read(&self.audience)).then_some(&self.value)
    }
}

impl Private<Words> {
    /// Whether both have a number in common: by its figures, with or without what dials the country or an extension. Says nothing
    /// else of either.
    #[must_use]
    pub fn dials_as(&self, other: &Self) -> bool {
        let (own, theirs) = (numbers_in(&self.value), numbers_in(&other.value));
        own.iter().any(|one| theirs.iter().any(|two| one.ends_with(two.as_str()) || two.ends_with(one.as_str())))
    }
}

/// Pairs that are one number, as [`Private::dials_as`] says, each number once with one before it in `numbers` or one that is shorter.
#[must_use]
pub fn dialled_twice<'a, T: Copy>(numbers: impl IntoIterator<Item = (T, &'a Private<Words>)>) -> Vec<(T, T)> {
    let told = |of: T, number: &Private<Words>| {
        let all = numbers_in(&number.value).into_iter();
        all.map(move |figures| (backwards(&figures), of)).collect::<Vec<_>>()
    };
    let mut all: Vec<(String, T)> = numbers.into_iter().flat_map(|(of, number)| told(of, number)).collect();
    // One that another ends with stands before it now, and only such lie between them.
    all.sort_by(|(one, _), (two, _)| one.cmp(two));
    let mut pairs = Vec::new();
    let mut open: Vec<(String, T)> = Vec::new();
    for (figures, of) in all {
        while open.last().is_some_and(|(known, _)| !figures.starts_with(known.as_str())) {
            open.pop();
        }
        pairs.extend(open.last().map(|(_, known)| (*known, of)));
        open.push((figures, of));
    }
    pairs
}

/// Numbers that others are compared with, as [`Private::dials_as`] compares two, without asking each by itself.
#[derive(Default)]
pub struct DialledNumbers(BTreeSet<String>);

impl DialledNumbers {
    /// Of these.
    #[must_use]
    pub fn of<'a>(numbers: impl IntoIterator<Item = &'a Private<Words>>) -> Self {
        let figures = numbers.into_iter().flat_map(|number| numbers_in(&number.value));
        Self(figures.map(|figures| backwards(&figures)).collect())
    }

    /// Whether one of them dials as `other`: one ends with the other.
    #[must_use]
    pub fn has(&self, other: &Private<Words>) -> bool {
        numbers_in(&other.value).iter().map(|figures| backwards(figures)).any(|asked| {
            let longer = self.0.range(asked.clone()..).next().is_some_and(|known| known.starts_with(&asked));
            longer || (LEAST_FIGURES..asked.len()).any(|end| asked.get(..end).is_some_and(|part| self.0.contains(part)))
        })
    }
}

fn backwards(figures: &str) -> String {
    figures.chars().rev().collect()
}

/// Fewer figures are an extension or a short code: those are many people's.
const LEAST_FIGURES: usize = 7;

/// The figures of each number in a text, in any width, without the zeros that dial a country or a long distance. What is neither
/// a figure nor stands between figures by custom parts a number from its extension, or from the next.
fn numbers_in(text: &Words) -> Vec<String> {
    let plain: String = text.as_str().nfkc().collect::<String>().replace("(0)", "");
    let parts = plain.split(|c: char| c.is_alphabetic() || matches!(c, '#' | '*' | ',' | ';' | ':' | '&'));
    let figures = parts.map(|part| part.chars().filter(char::is_ascii_digit).collect::<String>());
    let figures = figures.map(|figures| figures.trim_start_matches('0').to_owned());
    figures.filter(|figures| figures.len() >= LEAST_FIGURES).collect()
}

/// Opens private values for one audience. Only the audience floor makes one: a test reads the source and holds it to that.
pub struct Pass(Audience);

impl Pass {
    /// A pass for `audience`.
    #[must_use]
    pub(crate) const fn for_audience(audience: Audience) -> Self {
        Self(audience)
    }
}

#[cfg(test)]
mod tests {
    use super::{DialledNumbers, Pass, Private, dialled_twice};
    use crate::ground::{Audience, Words};

    #[test]
    fn a_number_is_the_same_however_it_is_written() {
        let number = |text: &str| Private::new(Words::parse(text).unwrap(), Audience::Coordinator);
        let own = number("+1 406 555 0101");
        for same in ["+1 406 555 0101", "406-555-0101", "(406) 555-0101", "001 406 555 0101", "555-0101"] {
            assert!(own.dials_as(&number(same)) && number(same).dials_as(&own), "{same}");
        }
        for same in [
            "1-406-555-0101 ext 2",
            "406.555.0101x17",
            "406 555 0101 or 406 555 0144",
            "\u{ff14}06-555-0101",
            "desk: 4065550101 #3",
        ] {
            assert!(own.dials_as(&number(same)) && number(same).dials_as(&own), "{same}");
        }
        for other in [
            "+1 406 555 0102",
            "0101",
            "+1 503 555 0101",
            "ask the desk",
            "555 01 ext 0101",
            "406 555 0102 ext 4065550",
        ] {
            assert!(!own.dials_as(&number(other)) && !number(other).dials_as(&own), "{other}");
        }
        assert!(number("+49 (0)171 555 0101").dials_as(&number("0171 5550101")));
        assert!(!number("ask the desk").dials_as(&number("ask the desk")), "no number at all");
    }

    #[test]
    fn what_is_withheld_is_opened_by_nobody() {
        let mut number = Private::new("555-0101", Audience::Public);
        let pass = Pass::for_audience(Audience::Coordinator);
        assert_eq!(number.open(&pass), Some(&"555-0101"));
        number.withhold();
        assert_eq!(number.open(&pass), None);
    }

    /// Against each pair asked by itself: a number is said with another exactly where some other dials it.
    #[test]
    fn numbers_that_stand_twice_are_those_that_dial_as_one() {
        let texts = [
            "+1 406 555 0101",
            "406-555-0102",
            "555-0101",
            "0101",
            "+1 503 555 0101",
            "(406) 555-0102",
            "555-0101",
            "ask",
            "ask",
            "+44 20 7946 0101",
        ];
        let numbers: Vec<Private<Words>> =
            texts.iter().map(|text| Private::new(Words::parse(text).unwrap(), Audience::Coordinator)).collect();
        let pairs = dialled_twice(numbers.iter().enumerate());
        assert_eq!(pairs, [(2, 6), (6, 4), (6, 0), (1, 5)]);
        assert!(pairs.iter().all(|(one, two)| numbers[*one].dials_as(&numbers[*two])));
        for (at, number) in numbers.iter().enumerate() {
            let others = || numbers.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, known)| known);
            let is_known = others().any(|known| known.dials_as(number));
            assert_eq!(DialledNumbers::of(others()).has(number), is_known, "{}", texts[at]);
        }
        let is_said = |at: usize| pairs.iter().any(|(one, two)| *one == at || *two == at);
        for (at, number) in numbers.iter().enumerate() {
            let is_twice = numbers.iter().enumerate().any(|(other, known)| other != at && known.dials_as(number));
            assert_eq!(is_said(at), is_twice, "{}", texts[at]);
        }
    }
}
