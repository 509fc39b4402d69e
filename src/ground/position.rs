//! Places on the earth.

use super::{Decimal, Refusal};
use std::fmt;

/// A point in ten-millionths of a degree, WGS 84.
///
/// A grid reference stands for the centre of its square, and keeps the text that was written.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Position {
    latitude: i32,
    longitude: i32,
    written: String,
}

impl Position {
    /// Grains in a degree.
    pub const PER_DEGREE: i64 = 10_000_000;

    /// A point; `None` outside ±90 and ±180 degrees. In ten-millionths of a degree.
    #[must_use]
    pub fn new(latitude: i64, longitude: i64, written: impl Into<String>) -> Option<Self> {
        let is_on_earth = latitude.abs() <= 90 * Self::PER_DEGREE && longitude.abs() <= 180 * Self::PER_DEGREE;
        let (latitude, longitude) = (i32::try_from(latitude).ok()?, i32::try_from(longitude).ok()?);
        is_on_earth.then(|| Self { latitude, longitude, written: written.into() })
    }

    /// North positive, in ten-millionths of a degree.
    #[must_use]
    pub const fn latitude(&self) -> i32 {
        self.latitude
    }
    /// East positive, in ten-millionths of a degree.
    #[must_use]
    pub const fn longitude(&self) -> i32 {
        self.longitude
    }

    /// Reads decimal degrees, latitude first: `"47.1234, -109.4321"`; a grid reference of 2 to 10 digits, `"12TXR 12345 67890"`
    /// spaced or not; or a Maidenhead locator of 4, 6 or 8 characters, `"DN47gd"`.
    ///
    /// # Errors
    /// When it is none of these, leaves the earth, or names a square outside its zone.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        let position = if trimmed.contains(',') {
            Self::parse_degrees(trimmed)
        } else if trimmed.starts_with(|c: char| c.is_ascii_digit()) {
            Self::parse_mgrs(trimmed)
        } else {
            Self::parse_maidenhead(trimmed)
        };
        position.ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a position")).help(
                "write degrees as \"47.1234, -109.4321\", or a grid reference as \"12TXR 12345 67890\" or \"DN47gd\"",
            )
        })
    }

    fn parse_degrees(text: &str) -> Option<Self> {
        let (latitude, longitude) = text.split_once(',')?;
        let degrees = |part: &str| Decimal::parse(part.trim()).and_then(|d| d.to_grains(Self::PER_DEGREE));
        Self::new(degrees(latitude)?, degrees(longitude)?, text)
    }
}

impl fmt::Display for Position {
    /// As written.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}
