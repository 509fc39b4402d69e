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

    /// Reads decimal degrees, latitude first: `"47.1234, -109.4321"`. Grid references are read by the reckon floor.
    ///
    /// # Errors
    /// When there are not two numbers, or they leave the earth.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not a position"))
                .help("write degrees as \"47.1234, -109.4321\", or a grid reference")
        };
        let (latitude, longitude) = text.split_once(',').ok_or_else(refuse)?;
        let degrees = |part: &str| Decimal::parse(part.trim()).and_then(|d| d.to_grains(Self::PER_DEGREE));
        Self::new(degrees(latitude).ok_or_else(refuse)?, degrees(longitude).ok_or_else(refuse)?, text.trim())
            .ok_or_else(refuse)
    }
}

impl fmt::Display for Position {
    /// As written.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}
