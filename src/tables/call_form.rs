//! Shapes of a country's amateur call signs, and those that nobody is given.

use super::row::Cite;
use crate::ground::CallSign;
use crate::source::record;

record! {
    /// A shape: prefix, a digit, a number of letters.
    #[derive(Clone, Debug)]
    pub struct CallForm = "row of a table" {
        /// As the country names it.
        name: String,
        /// Classes to which it is given.
        classes: Vec<String>,
        /// Prefixes before the digit: `K`, or a range as `AA-AL`.
        prefixes: Vec<String>,
        /// How many letters may follow the digit.
        suffix_letters: Vec<u8>,
        /// Where from.
        cite: Cite,
    }

    /// Call signs that nobody is given: all of what is written must hold.
    #[derive(Clone, Debug)]
    pub struct ClosedCalls = "row of a table" {
        /// Prefixes; empty for any.
        prefixes: Vec<String>,
        /// Digits; any when none are written.
        digits: Option<String>,
        /// Suffixes: `SOS`, or a range as `QRA-QUZ`; empty for any.
        suffixes: Vec<String>,
        /// Why.
        reason: String,
        /// Where from.
        cite: Cite,
    }

    /// Where the call signs with a numeral were given.
    #[derive(Clone, Debug)]
    pub struct CallRegion = "row of a table" {
        /// The numeral.
        digits: String,
        /// States or provinces by ISO 3166-2.
        regions: Vec<String>,
        /// Where from.
        cite: Cite,
    }
}

impl CallForm {
    /// Whether `call` has this shape.
    #[must_use]
    pub fn fits(&self, call: &CallSign) -> bool {
        let letters = u8::try_from(call.suffix().len()).ok();
        letters.is_some_and(|letters| self.suffix_letters.contains(&letters)) && is_among(&self.prefixes, call.prefix())
    }
}

impl ClosedCalls {
    /// Whether `call` is one of them.
    #[must_use]
    pub fn holds(&self, call: &CallSign) -> bool {
        let has_digit = self.digits.as_ref().is_none_or(|digits| digits.contains(call.digit()));
        has_digit
            && (self.prefixes.is_empty() || is_among(&self.prefixes, call.prefix()))
            && (self.suffixes.is_empty() || is_among(&self.suffixes, call.suffix()))
    }
}

/// Whether `letters` is one of `ranges`. A range holds what has its ends' length and lies between them letter by letter.
fn is_among(ranges: &[String], letters: &str) -> bool {
    ranges.iter().any(|range| {
        let (low, high) = range.split_once('-').unwrap_or((range, range));
        letters.len() == low.len() && low <= letters && letters <= high
    })
}

#[cfg(test)]
mod tests {
    use super::is_among;

    #[test]
    fn ranges_hold_what_has_their_length() {
        let ranges = ["QRA-QUZ".to_owned(), "SOS".to_owned(), "K".to_owned()];
        for (letters, is_in) in [
            ("QRA", true),
            ("QUZ", true),
            ("QTD", true),
            ("QVA", false),
            ("QR", false),
            ("SOS", true),
            ("KA", false),
            ("K", true),
        ] {
            assert_eq!(is_among(&ranges, letters), is_in, "{letters}");
        }
    }
}
