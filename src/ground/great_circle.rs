//! Distance over ground on a sphere of the earth's mean radius.
//!
//! Haversine (from memory; within 0.6 % of the ellipsoid everywhere). Trigonometry is libm's, so that every machine agrees.

use super::{Distance, Position};

/// Mean radius of the earth in metres (IUGG, from memory).
pub(super) const RADIUS: f64 = 6_371_008.8;

/// Ten-millionths of a degree in radians.
pub(super) fn radians(grains: i32) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "10 million grains a degree are far below 2^53")]
    let degrees = f64::from(grains) / Position::PER_DEGREE as f64;
    degrees * std::f64::consts::PI / 180.0
}

impl Position {
    /// The distance to `other`, in whole metres.
    #[must_use]
    pub fn distance_to(&self, other: &Self) -> Distance {
        let (a, b) = (radians(self.latitude()), radians(other.latitude()));
        let up = libm::sin((b - a) / 2.0);
        let across = libm::sin((radians(other.longitude()) - radians(self.longitude())) / 2.0);
        let h = (up * up + libm::cos(a) * libm::cos(b) * across * across).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, reason = "at most half the earth's circumference")]
        let metres = libm::round(2.0 * RADIUS * libm::asin(libm::sqrt(h))) as i64;
        Distance::metres(metres)
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::Position;

    fn metres(from: &str, to: &str) -> i64 {
        Position::parse(from).unwrap().distance_to(&Position::parse(to).unwrap()).as_metres()
    }

    /// One degree of a great circle is a 360th of the circumference: 2 pi 6371.0088 km / 360 = 111.195 km. Worked by hand.
    #[test]
    fn a_degree_is_a_360th_of_the_way_round() {
        assert_eq!(metres("0, 0", "0, 1"), 111_195);
        assert_eq!(metres("47, -109", "48, -109"), 111_195);
        assert_eq!(metres("0, 179.5", "0, -179.5"), 111_195);
        assert_eq!(metres("0, 0", "0, 180"), 20_015_114);
        // At 60 degrees north the parallel is half as long; the great circle cuts the corner a little.
        assert_eq!(metres("60, 0", "60, 1"), 55_597);
        assert_eq!(metres("47.1, -109.4", "47.1, -109.4"), 0);
    }
}
