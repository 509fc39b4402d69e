//! How wide a signal is.

use super::{Decimal, Refusal};
use std::fmt;

/// An occupied or necessary bandwidth in whole hertz.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Width(u64);

impl Width {
    /// A number of hertz.
    #[must_use]
    pub const fn hertz(n: u64) -> Self {
        Self(n)
    }
    /// The number of hertz.
    #[must_use]
    pub const fn as_hertz(self) -> u64 {
        self.0
    }

    /// Reads `"12.5 kHz"`, `"150 Hz"`, `"6 MHz"`.
    ///
    /// # Errors
    /// When the unit is missing, it is not whole hertz, or it is zero or above 1 GHz.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse =
            || Refusal::new(format!("\"{text}\" is not a width")).help("write wide, narrow or a width as \"12.5 kHz\"");
        let units = [("MHz", 1_000_000), ("kHz", 1000), ("Hz", 1)];
        let (number, per_one) =
            units.iter().find_map(|(unit, n)| Some((text.trim().strip_suffix(unit)?.trim(), *n))).ok_or_else(refuse)?;
        let hertz = Decimal::parse(number).and_then(|d| d.to_grains(per_one)).ok_or_else(refuse)?;
        u64::try_from(hertz).ok().filter(|n| (1..=1_000_000_000).contains(n)).map(Self).ok_or_else(refuse)
    }
}

impl fmt::Display for Width {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let n = i64::try_from(self.0).unwrap_or(i64::MAX);
        if self.0 < 1000 { write!(f, "{n} Hz") } else { write!(f, "{} kHz", Decimal::print(n, 1000, 0)) }
    }
}
