//! What a feed line loses, as its maker prints it: decibels in a hundred meters at a frequency.

use super::{Decimal, Frequency, Refusal};
use std::fmt;

/// A loss in 100 m at a frequency.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct LineLoss {
    hundredths: i64,
    at: Frequency,
}

/// Hundredths of a decibel in 100 m: from what no line is as good as, to what no line is as bad as.
const RANGE: std::ops::RangeInclusive<i64> = 1..=50_000;

impl LineLoss {
    /// Hundredths of a decibel in 100 m.
    #[must_use]
    pub const fn as_hundredths(self) -> i64 {
        self.hundredths
    }

    /// The frequency at which that was measured.
    #[must_use]
    pub const fn at(self) -> Frequency {
        self.at
    }

    /// Reads `8.9 dB at 150 MHz`.
    ///
    /// # Errors
    /// When it has no such form, or the loss is not above 0 and up to 500 dB.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        Self::read(text).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is no loss above 0 and up to 500 dB in 100 m, at a frequency"))
                .help("write it as the maker has it, \"8.9 dB at 150 MHz\"")
        })
    }

    fn read(text: &str) -> Option<Self> {
        let (loss, at) = text.split_once(" at ")?;
        let loss = Decimal::parse(loss.trim().strip_suffix("dB")?.trim())?.to_grains(100)?;
        Some(Self { hundredths: loss, at: Frequency::parse(at.trim()).ok()? }).filter(|_| RANGE.contains(&loss))
    }
}

impl fmt::Display for LineLoss {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} dB at {}", Decimal::print(self.hundredths, 100, 0), self.at)
    }
}

#[cfg(test)]
mod tests {
    use super::LineLoss;

    #[test]
    fn what_a_maker_prints_is_read() {
        let is = LineLoss::parse("8.9 dB at 150 MHz").unwrap();
        assert_eq!((is.as_hundredths(), is.at().as_hertz()), (890, 150_000_000));
        assert_eq!(LineLoss::parse(&is.to_string()).unwrap(), is);
        for text in
            ["8.9 dB", "8.9 at 150 MHz", "0 dB at 150 MHz", "501 dB at 1 GHz", "-3 dB at 150 MHz", "9 dB at 150"]
        {
            assert!(LineLoss::parse(text).is_err(), "{text}");
        }
    }
}
