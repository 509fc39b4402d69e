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

    /// Reads a time span with its unit.
    ///
    /// # Errors
    /// When the unit is missing, it is not whole seconds, or it is zero or over ten years.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not a length of time"))
                .help("write it as \"2 min\", \"180 s\" or \"24 h\"")
        };
        let units = [("min", 60), ("s", 1), ("h", 3600), ("d", 86_400)];
        let (number, per_one) =
            units.iter().find_map(|(unit, n)| Some((text.trim().strip_suffix(unit)?.trim(), *n))).ok_or_else(refuse)?;
        let seconds = Decimal::parse(number).and_then(|d| d.to_grains(per_one)).ok_or_else(refuse)?;
        u64::try_from(seconds).ok().filter(|n| (1..=315_360_000).contains(n)).map(Self).ok_or_else(refuse)
    }
}

impl fmt::Display for Lapse {
    /// In the largest unit that keeps it whole, except that up to two days stay in hours.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            n if n % 86_400 == 0 && n > 172_800 => write!(f, "{} d", n / 86_400),
            n if n % 3600 == 0 => write!(f, "{} h", n / 3600),
            n if n % 60 == 0 => write!(f, "{} min", n / 60),
            n => write!(f, "{n} s"),
        }
    }
}
