//! A limit that goes by the frequency: the same at all, or a number divided by it, or it divided by a number.

use super::{Decimal, Refusal};
use std::fmt;

/// A limit by frequency, as tables of law have it; f in megahertz.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct FieldLimit {
    /// The number of its shape, in millionths.
    number: i64,
    shape: LimitShape,
    unit: Unit,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
enum LimitShape {
    /// `0.2`
    Alike,
    /// `20/f`
    ByFrequency,
    /// `180/f2`
    BySquare,
    /// `f/1500`
    OfFrequency,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
enum Unit {
    Density,
    Watts,
}

const MILLION: i64 = 1_000_000;
const SHAPES: [LimitShape; 4] =
    [LimitShape::BySquare, LimitShape::ByFrequency, LimitShape::OfFrequency, LimitShape::Alike];

impl FieldLimit {
    /// Reads `0.2 mW/cm2`, `180/f2 mW/cm2`, `f/1500 mW/cm2`, `20/f mW/cm2`, and the same in `W`.
    ///
    /// # Errors
    /// When the unit is missing, it has none of these forms, or its number is not above 0 and up to a million.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        Self::read(text.trim()).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is no limit by frequency, of a number above 0 and up to 1000000")).help(
                "write it as \"0.2 mW/cm2\", \"180/f2 mW/cm2\", \"20/f mW/cm2\" or \"f/1500 mW/cm2\", f in megahertz",
            )
        })
    }

    fn read(text: &str) -> Option<Self> {
        let (value, unit) = match text.strip_suffix("mW/cm2") {
            Some(value) => (value.trim(), Unit::Density),
            None => (text.strip_suffix('W')?.trim(), Unit::Watts),
        };
        let (number, shape) = SHAPES.into_iter().find_map(|shape| Some((shape.number(value)?, shape)))?;
        let number = Decimal::parse(number)?.to_grains(MILLION).filter(|n| (1..=MILLION * MILLION).contains(n))?;
        Some(Self { number, shape, unit })
    }

    /// The limit at a frequency in megahertz, which is above zero.
    #[must_use]
    pub fn at(self, megahertz: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a million in millionths is below 2^53")]
        let number = self.number as f64 / 1e6;
        match self.shape {
            LimitShape::Alike => number,
            LimitShape::ByFrequency => number / megahertz,
            LimitShape::BySquare => number / (megahertz * megahertz),
            LimitShape::OfFrequency => megahertz / number,
        }
    }

    /// Whether it is a density of power, and no power.
    #[must_use]
    pub const fn is_density(self) -> bool {
        matches!(self.unit, Unit::Density)
    }
}

impl LimitShape {
    /// The number of a value of this shape.
    fn number(self, value: &str) -> Option<&str> {
        match self {
            Self::Alike => Some(value),
            Self::ByFrequency => value.strip_suffix("/f"),
            Self::BySquare => value.strip_suffix("/f2"),
            Self::OfFrequency => value.strip_prefix("f/"),
        }
    }
}

impl fmt::Display for FieldLimit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = Decimal::print(self.number, MILLION.unsigned_abs(), 0);
        let unit = if self.is_density() { "mW/cm2" } else { "W" };
        match self.shape {
            LimitShape::Alike => write!(f, "{number} {unit}"),
            LimitShape::ByFrequency => write!(f, "{number}/f {unit}"),
            LimitShape::BySquare => write!(f, "{number}/f2 {unit}"),
            LimitShape::OfFrequency => write!(f, "f/{number} {unit}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::FieldLimit;

    #[test]
    fn what_is_written_comes_back() {
        for text in ["0.2 mW/cm2", "180/f2 mW/cm2", "2/f mW/cm2", "f/1500 mW/cm2", "f/78.125 W"] {
            assert_eq!(FieldLimit::parse(text).unwrap().to_string(), text);
        }
        let at = |text: &str, mhz| FieldLimit::parse(text).unwrap().at(mhz);
        assert!((at("180/f2 mW/cm2", 30.0) - 0.2).abs() < 1e-12 && (at("f/1500 mW/cm2", 300.0) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn what_limits_nothing_is_refused() {
        for text in ["0 mW/cm2", "f/0 mW/cm2", "-1 mW/cm2", "0.2", "f mW/cm2", "1/f3 mW/cm2", "2 V/m", "9999999 W"] {
            assert!(FieldLimit::parse(text).is_err(), "{text}");
        }
    }
}
