//! How far a radio may be off the frequency that it shows.

use super::{Decimal, Frequency, Refusal};
use std::fmt;

/// Frequency tolerance in hundredths of a part per million, to both sides.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Tolerance(u32);

impl Tolerance {
    /// Reads `"2.5 ppm"`.
    ///
    /// # Errors
    /// When the unit is missing or it is outside 0 to 1000 ppm.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || Refusal::new(format!("\"{text}\" is not a tolerance")).help("write it as \"2.5 ppm\"");
        let number = text.trim().strip_suffix("ppm").map(str::trim).ok_or_else(refuse)?;
        let hundredths = Decimal::parse(number).and_then(|d| d.to_grains(100)).ok_or_else(refuse)?;
        u32::try_from(hundredths).ok().filter(|n| *n <= 100_000).map(Self).ok_or_else(refuse)
    }

    /// How far off that is at `frequency`, in hertz, rounded up.
    #[must_use]
    pub fn at(self, frequency: Frequency) -> i64 {
        let product = i128::from(frequency.as_hertz()) * i128::from(self.0);
        i64::try_from((product + 99_999_999) / 100_000_000).unwrap_or(i64::MAX)
    }

    /// Whether it is 0.
    #[must_use]
    pub const fn is_none(self) -> bool {
        self.0 == 0
    }
}

impl fmt::Display for Tolerance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ppm", Decimal::print(i64::from(self.0), 100, 0))
    }
}

#[cfg(test)]
mod tests {
    use super::Tolerance;
    use crate::ground::Frequency;

    #[test]
    fn parts_per_million_become_hertz_rounded_up() {
        let at = |ppm: &str, hertz| Tolerance::parse(ppm).unwrap().at(Frequency::hertz(hertz).unwrap());
        assert_eq!(at("2.5 ppm", 146_940_000), 368);
        assert_eq!(at("1 ppm", 7_000_000), 7);
        assert_eq!(at("0 ppm", 7_000_000), 0);
        assert!(Tolerance::parse("2.5").is_err() && Tolerance::parse("-1 ppm").is_err());
    }
}
