//! Data speed, antenna gain, decibels and heights: small units of single fields.

use super::{Decimal, Refusal};
use std::fmt;

/// Signalling rate in baud.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Speed(u32);

impl Speed {
    /// The number of baud.
    #[must_use]
    pub const fn as_baud(self) -> u32 {
        self.0
    }
    /// Reads `"1200 baud"`.
    ///
    /// # Errors
    /// When it is not a whole number of baud from 1 to 1 000 000.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let number = text.trim().strip_suffix("baud").map(str::trim);
        number
            .and_then(|n| n.parse().ok())
            .filter(|n| (1..=1_000_000).contains(n))
            .map(Self)
            .ok_or_else(|| Refusal::new(format!("\"{text}\" is not a speed")).help("write it as \"1200 baud\""))
    }
}

impl fmt::Display for Speed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} baud", self.0)
    }
}

/// Antenna gain in hundredths of a decibel, with its reference as written (`dBi`, `dBd` or `dB`).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Gain {
    hundredths: i32,
    unit: &'static str,
}

impl Gain {
    /// Hundredths of a decibel, whatever the reference.
    #[must_use]
    pub const fn as_hundredths(self) -> i32 {
        self.hundredths
    }
    /// `dBi`, `dBd` or `dB`.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.unit
    }
    /// Hundredths of a decibel over an isotropic antenna; a half-wave dipole has 2.15 dBi. Without a reference, taken as dBi.
    #[must_use]
    pub fn over_isotropic(self) -> i32 {
        if self.unit == "dBd" { self.hundredths + 215 } else { self.hundredths }
    }
    /// Reads `"2.15 dBi"`, `"0 dBd"`, `"1.5 dB"`.
    ///
    /// # Errors
    /// When the unit is missing or the value is outside -200 to 200.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse =
            || Refusal::new(format!("\"{text}\" is not in decibels")).help("write it as \"2.15 dBi\" or \"1.5 dB\"");
        let (number, unit) = ["dBi", "dBd", "dB"]
            .iter()
            .find_map(|unit| Some((text.trim().strip_suffix(unit)?.trim(), *unit)))
            .ok_or_else(refuse)?;
        let hundredths = Decimal::parse(number).and_then(|d| d.to_grains(100)).ok_or_else(refuse)?;
        i32::try_from(hundredths)
            .ok()
            .filter(|n| n.abs() <= 20_000)
            .map(|hundredths| Self { hundredths, unit })
            .ok_or_else(refuse)
    }
}

impl fmt::Display for Gain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Decimal::print(i64::from(self.hundredths), 100, 0), self.unit)
    }
}

/// What keeps a signal back, as a feed line's loss or the isolation of two antennas, in hundredths of a decibel.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Decibels(i32);

impl Decibels {
    /// A number of hundredths; outside the range of what is written where it is reckoned.
    #[must_use]
    pub const fn hundredths(n: i32) -> Self {
        Self(n)
    }
    /// The number of hundredths.
    #[must_use]
    pub const fn as_hundredths(self) -> i32 {
        self.0
    }
    /// Reads `"80 dB"`, `"1.5 dB"`.
    ///
    /// # Errors
    /// When the unit is missing or the value is outside 0 to 200.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is no number of decibels from 0 to 200")).help("write it as \"1.5 dB\"")
        };
        let number = text.trim().strip_suffix("dB").map(str::trim);
        let hundredths = number.and_then(Decimal::parse).and_then(|d| d.to_grains(100)).ok_or_else(refuse)?;
        i32::try_from(hundredths).ok().filter(|n| (0..=20_000).contains(n)).map(Self).ok_or_else(refuse)
    }
}

impl fmt::Display for Decibels {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} dB", Decimal::print(i64::from(self.0), 100, 0))
    }
}

/// A height above ground or sea in whole centimetres.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Height(i64);

impl Height {
    /// The number of centimetres.
    #[must_use]
    pub const fn as_centimetres(self) -> i64 {
        self.0
    }
    /// Reads `"18 m"`, `"60 ft"`; feet are exactly 30.48 cm and are rounded down to a centimetre.
    ///
    /// # Errors
    /// When the unit is missing or it is outside -500 m to 10 km.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || Refusal::new(format!("\"{text}\" is not a height")).help("write it as \"18 m\"");
        let trimmed = text.trim();
        let centimetres = if let Some(number) = trimmed.strip_suffix("ft") {
            Decimal::parse(number.trim()).and_then(|d| d.to_grains(304_800)).map(|n| n.div_euclid(10_000))
        } else {
            trimmed.strip_suffix('m').and_then(|number| Decimal::parse(number.trim())).and_then(|d| d.to_grains(100))
        };
        centimetres.filter(|n| (-50_000..=1_000_000).contains(n)).map(Self).ok_or_else(refuse)
    }
}

impl fmt::Display for Height {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} m", Decimal::print(self.0, 100, 0))
    }
}
