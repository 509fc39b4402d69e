//! How long something lasts.

use super::{Decimal, Refusal};
use std::fmt;

/// A time span in whole seconds: `"180 s"`, `"2 min"`, `"24 h"`, `"30 d"`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Lapse(u64);

impl Lapse {
    /// A number of seconds.
    #[must_use]
    pub const fn seconds(n: u64) -> Self {
        Self(n)
    }
    /// The number of seconds.
    #[must_use]
    pub const fn as_seconds(self) -> u64 {
        self.0
    }

    /// One after the other.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// Reads a time span with its unit, or in two parts: `12 h 50 min`.
    ///
    /// # Errors
    /// When the unit is missing, it is not whole seconds, or it is zero or over ten years.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not a length of time"))
                .help("write it as \"2 min\", \"180 s\", \"24 h\" or \"12 h 50 min\"")
        };
        let (text, last) = last_part(text).ok_or_else(refuse)?;
        let seconds = match text {
            "" => last.seconds,
            // As sheets print it: hours and minutes, each less than one of the unit before it.
            first => match last_part(first) {
                Some(("", first)) if first.is_whole && first.seconds > 0 && (1..first.unit).contains(&last.seconds) => {
                    first.seconds.checked_add(last.seconds).ok_or_else(refuse)?
                }
                _ => return Err(refuse()),
            },
        };
        u64::try_from(seconds).ok().filter(|n| (1..=315_360_000).contains(n)).map(Self).ok_or_else(refuse)
    }

    /// Every length of time that a sentence names: `no answer for 2 minutes, or at once after 90 s`. Numbers up to twelve may be
    /// words.
    #[must_use]
    pub fn all_in(text: &str) -> Vec<Self> {
        let text = text.to_lowercase();
        let words: Vec<&str> =
            text.split(|c: char| !c.is_alphanumeric() && c != '.').filter(|word| !word.is_empty()).collect();
        let lapse = |(index, word): (usize, &&str)| {
            let (number, own) = word.split_at(word.find(char::is_alphabetic).unwrap_or(word.len()));
            let (number, unit) = match (number, own) {
                ("", word) => (number_word(word)?.to_string(), *words.get(index + 1)?),
                (number, "") => (number.to_owned(), *words.get(index + 1)?),
                (number, unit) => (number.to_owned(), unit),
            };
            Self::parse(&format!("{} {}", number.trim_matches('.'), short_unit(unit)?)).ok()
        };
        words.iter().enumerate().filter_map(lapse).collect()
    }
}

/// `45 min`, `12 h`, `11 h 45 min`: how minutes that pass are told.
#[must_use]
pub fn hours_words(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// A number with its unit.
struct LapsePart {
    seconds: i64,
    /// Seconds of the unit.
    unit: i64,
    /// Whether the number has no decimals.
    is_whole: bool,
}

/// The number with a unit at the end of a text, and what stands before it.
fn last_part(text: &str) -> Option<(&str, LapsePart)> {
    let units = [("min", 60), ("s", 1), ("h", 3600), ("d", 86_400)];
    let (rest, unit) = units.iter().find_map(|(unit, n)| Some((text.trim().strip_suffix(unit)?.trim_end(), *n)))?;
    let begin = rest.rfind(|c: char| c.is_whitespace() || c.is_ascii_alphabetic()).map_or(0, |at| at + 1);
    let (before, number) = (rest.get(..begin)?, rest.get(begin..)?);
    let seconds = Decimal::parse(number).and_then(|d| d.to_grains(unit))?;
    Some((before.trim(), LapsePart { seconds, unit, is_whole: seconds % unit == 0 }))
}

fn number_word(word: &str) -> Option<usize> {
    let words = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    Some(words.iter().position(|known| *known == word)? + 1)
}

/// The unit that a word begins with, in English or German.
fn short_unit(word: &str) -> Option<&'static str> {
    let units = [("min", "min"), ("sec", "s"), ("sek", "s"), ("hour", "h"), ("hr", "h"), ("std", "h"), ("stunde", "h")];
    match word.trim_matches('.') {
        "s" => Some("s"),
        "h" => Some("h"),
        word => units.iter().find(|(start, _)| word.starts_with(start)).map(|(_, unit)| *unit),
    }
}

impl fmt::Display for Lapse {
    /// In the largest unit that keeps it whole, except that up to two days stay in hours; in hours and minutes from two hours on.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            n if n % 86_400 == 0 && n > 172_800 => write!(f, "{} d", n / 86_400),
            n if n % 3600 == 0 => write!(f, "{} h", n / 3600),
            n if n % 60 == 0 && n > 7200 => write!(f, "{} h {} min", n / 3600, n % 3600 / 60),
            n if n % 60 == 0 => write!(f, "{} min", n / 60),
            n => write!(f, "{n} s"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Lapse;

    #[test]
    fn a_length_in_two_parts_is_their_sum() {
        let read = |text| Lapse::parse(text).ok().map(Lapse::as_seconds);
        assert_eq!(read("12 h 50 min"), Some(46_200));
        assert_eq!(read("12h50min"), Some(46_200));
        assert_eq!(read("1 d 6 h"), Some(108_000));
        assert_eq!(read("2 min 30 s"), Some(150));
        for refused in [
            "50 min 12 h",
            "1 h 60 min",
            "1.5 h 10 min",
            "1 h 2 min 3 s",
            "1 h 0.001 s",
            "h 5 min",
            "1 h min",
            "1 h-5 min",
        ] {
            assert_eq!(read(refused), None, "{refused}");
        }
        assert_eq!(read("3650 d"), Some(315_360_000));
        assert_eq!(read("3650 d 1 s"), None);
        let printed = |text| Lapse::parse(text).unwrap().to_string();
        assert_eq!(
            ["770 min", "90 min", "12 h 50 min", "150 s"].map(printed),
            ["12 h 50 min", "90 min", "12 h 50 min", "150 s"]
        );
    }

    #[test]
    fn lengths_of_time_are_found_in_a_sentence() {
        let all = |text| Lapse::all_in(text).iter().map(|lapse| lapse.as_seconds()).collect::<Vec<_>>();
        assert_eq!(all("no answer from net control for 2 minutes"), [120]);
        assert_eq!(all("after 90 s, or at the latest after 5min."), [90, 300]);
        assert_eq!(all("No answer for two minutes"), [120]);
        assert_eq!(all("1.5 hours without a word; a 10-minute silence"), [5400, 600]);
        assert_eq!(all("nach 3 Minuten, nach 1 Stunde"), [180, 3600]);
        // Two connections are no time, nor is a channel's number.
        assert_eq!(all("two failed connections on CMD 2, then 3 calls"), [0_u64; 0]);
    }
}
