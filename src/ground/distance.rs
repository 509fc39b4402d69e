//! Distances over ground.

use super::{Decimal, Refusal};
use std::fmt;

/// A distance in whole metres.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Distance(i64);

impl Distance {
    /// The number of metres.
    #[must_use]
    pub const fn as_metres(self) -> i64 {
        self.0
    }

    /// So many metres.
    #[must_use]
    pub const fn metres(metres: i64) -> Self {
        Self(metres)
    }

    /// Reads `"322 km"`.
    ///
    /// # Errors
    /// When the unit is missing or it is outside 0 to 20 000 km.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || Refusal::new(format!("\"{text}\" is not a distance")).help("write it as \"322 km\"");
        let number = text.trim().strip_suffix("km").map(str::trim).ok_or_else(refuse)?;
        let metres = Decimal::parse(number).and_then(|d| d.to_grains(1000)).ok_or_else(refuse)?;
        (0..=20_000_000).contains(&metres).then_some(Self(metres)).ok_or_else(refuse)
    }
}

impl fmt::Display for Distance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} km", Decimal::print(self.0, 1000, 0))
    }
}
