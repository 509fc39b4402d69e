//! A stretch of frequencies.

use super::{Frequency, Refusal};
use std::fmt;

/// From a lower to an upper frequency, both ends included.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Stretch {
    low: Frequency,
    high: Frequency,
}

impl Stretch {
    /// From `low` to `high`; none when they are swapped.
    #[must_use]
    pub fn new(low: Frequency, high: Frequency) -> Option<Self> {
        (low <= high).then_some(Self { low, high })
    }

    /// Reads `"144 MHz to 148 MHz"`.
    ///
    /// # Errors
    /// When an end is no frequency or the ends are swapped.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not a stretch of frequencies"))
                .help("write it as \"144 MHz to 148 MHz\"")
        };
        let (low, high) = text.split_once(" to ").ok_or_else(refuse)?;
        let (low, high) = (Frequency::parse(low)?, Frequency::parse(high)?);
        Self::new(low, high).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" ends below its start")).help(format!("write \"{high} to {low}\""))
        })
    }

    /// Lower end.
    #[must_use]
    pub const fn low(&self) -> Frequency {
        self.low
    }
    /// Upper end.
    #[must_use]
    pub const fn high(&self) -> Frequency {
        self.high
    }
    /// How far a frequency lies outside, in hertz; 0 inside.
    #[must_use]
    pub fn distance(&self, frequency: Frequency) -> i64 {
        (self.low - frequency).as_hertz().max((frequency - self.high).as_hertz()).max(0)
    }

    /// Whether `other` lies inside, ends included.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        self.low <= other.low && other.high <= self.high
    }
    /// Whether `frequency` lies inside, ends included.
    #[must_use]
    pub fn has(&self, frequency: Frequency) -> bool {
        self.low <= frequency && frequency <= self.high
    }
    /// Whether two share more than an end.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.low < other.high && other.low < self.high
    }

    /// Whether these stretches together hold `wanted` without a gap. They need not be sorted.
    #[must_use]
    pub fn are_covering(stretches: impl Iterator<Item = Self>, wanted: &Self) -> bool {
        let mut parts: Vec<Self> = stretches.filter(|s| s.low <= wanted.high && s.high >= wanted.low).collect();
        parts.sort();
        let mut reached: Option<Frequency> = None;
        for part in parts {
            let is_joined = reached.map_or(part.low <= wanted.low, |high| part.low <= high);
            if !is_joined {
                return false;
            }
            reached = reached.max(Some(part.high));
            if reached >= Some(wanted.high) {
                return true;
            }
        }
        false
    }
}

impl fmt::Display for Stretch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} to {}", self.low, self.high)
    }
}
