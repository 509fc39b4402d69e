//! Transmitter power.

use super::{Decimal, Refusal};
use std::fmt;

/// A power in whole milliwatts, above zero.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Power(u64);

impl Power {
    /// A number of milliwatts.
    #[must_use]
    pub const fn milliwatts(n: u64) -> Self {
        Self(n)
    }
    /// The number of milliwatts.
    #[must_use]
    pub const fn as_milliwatts(self) -> u64 {
        self.0
    }

    /// Reads `"25 W"`, `"9.15 W"`, `"500 mW"`, `"1.5 kW"`.
    ///
    /// # Errors
    /// When the unit is missing, it is not whole milliwatts, or it is zero or above 1 MW.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || Refusal::new(format!("\"{text}\" is not a power")).help("write it as \"25 W\"");
        let units = [("kW", 1_000_000), ("mW", 1), ("W", 1000)];
        let (number, per_one) =
            units.iter().find_map(|(unit, n)| Some((text.trim().strip_suffix(unit)?.trim(), *n))).ok_or_else(refuse)?;
        let milliwatts = Decimal::parse(number).and_then(|d| d.to_grains(per_one)).ok_or_else(refuse)?;
        u64::try_from(milliwatts).ok().filter(|n| (1..=1_000_000_000).contains(n)).map(Self).ok_or_else(refuse)
    }
}

impl fmt::Display for Power {
    /// `25 W`; below a tenth of a watt in milliwatts.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let n = i64::try_from(self.0).unwrap_or(i64::MAX);
        if self.0 < 100 { write!(f, "{n} mW") } else { write!(f, "{} W", Decimal::print(n, 1000, 0)) }
    }
}
