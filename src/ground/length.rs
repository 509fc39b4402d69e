//! Distances on paper.

use super::caps::LENGTH_MM;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A distance on paper, in grains of 1/7200 mm. Origin top left, y downwards.
///
/// 0.05 pt, 0.01 mm and 1/32 in are all whole grains, so a form drawn in any of them adds up exactly.
/// From 72 pt = 1 in = 25.4 mm.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Length(i64);

impl Length {
    /// No distance.
    pub const ZERO: Self = Self(0);

    /// Whole millimetres.
    #[must_use]
    pub const fn mm(n: i64) -> Self {
        Self(n * 7200)
    }
    /// Hundredths of a millimetre.
    #[must_use]
    pub const fn hundredths_mm(n: i64) -> Self {
        Self(n * 72)
    }
    /// Whole points.
    #[must_use]
    pub const fn pt(n: i64) -> Self {
        Self(n * 2540)
    }
    /// Twentieths of a point.
    #[must_use]
    pub const fn twentieths_pt(n: i64) -> Self {
        Self(n * 127)
    }
    /// Whole inches.
    #[must_use]
    pub const fn inches(n: i64) -> Self {
        Self(n * 182_880)
    }
    /// A number of grains.
    #[must_use]
    pub const fn grains(n: i64) -> Self {
        Self(n)
    }
    /// The number of grains.
    #[must_use]
    pub const fn as_grains(self) -> i64 {
        self.0
    }
    /// `numerator/denominator` of this length, rounded down to a grain; zero when the denominator is.
    #[must_use]
    pub const fn fraction(self, numerator: i64, denominator: i64) -> Self {
        if denominator == 0 { Self(0) } else { Self((self.0 * numerator).div_euclid(denominator)) }
    }
    /// The length in points, for the PDF writer alone. Exact to 1/2540 pt.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "paper lengths stay far below 2^52 grains")]
    pub fn to_pt(self) -> f64 {
        self.0 as f64 / 2540.0
    }
    /// The longer of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        if other > self { other } else { self }
    }
    /// The shorter of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        if other < self { other } else { self }
    }

    /// Reads `"5 mm"`, `"0.35 pt"`, `"3 in"`.
    ///
    /// # Errors
    /// When there is no unit, or the value is no whole number of grains.
    pub fn parse(text: &str) -> Result<Self, super::Refusal> {
        let refuse = || {
            super::Refusal::new(format!("\"{text}\" is not a length on paper"))
                .help("write it as \"5 mm\", \"10.5 pt\" or \"3 in\"")
        };
        let (number, grain) = if let Some(number) = text.strip_suffix("mm") {
            (number, 7200)
        } else if let Some(number) = text.strip_suffix("pt") {
            (number, 2540)
        } else if let Some(number) = text.strip_suffix("in") {
            (number, 182_880)
        } else {
            return Err(refuse());
        };
        let decimal = super::Decimal::parse(number.trim()).ok_or_else(refuse)?;
        let length = decimal.to_grains(grain).map(Self).ok_or_else(refuse)?;
        let most = i64::try_from(LENGTH_MM.most).map_or(Self(i64::MAX), Self::mm);
        if length.0.unsigned_abs() > most.0.unsigned_abs() {
            let what = format!("\"{text}\" is longer than {} mm, the most that is taken", LENGTH_MM.most);
            return Err(super::Refusal::new(what).help("write what the paper has, as \"5 mm\""));
        }
        Ok(length)
    }
}

impl std::fmt::Display for Length {
    /// Millimetres with two decimals, for messages.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let hundredths = (self.0 + if self.0 < 0 { -36 } else { 36 }) / 72;
        let sign = if hundredths < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{:02} mm", hundredths.abs() / 100, hundredths.abs() % 100)
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl Div<i64> for Length {
    type Output = Self;
    fn div(self, n: i64) -> Self {
        Self(self.0.div_euclid(n))
    }
}
impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Add::add)
    }
}
