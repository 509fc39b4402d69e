//! Distance and bearing over ground on the ellipsoid of WGS 84.
//!
//! T. Vincenty, "Direct and inverse solutions of geodesics on the ellipsoid with application of nested equations", Survey Review XXIII,
//! No. 176, 1975, the inverse formulas (from memory). Within a millimeter, but of points nearly opposite each other on the earth they say nothing.

use crate::ground::Position;

/// WGS 84 (NGA.STND.0036, from memory): half the equator's diameter in meters, and the flattening.
const A: f64 = 6_378_137.0;
const F: f64 = 1.0 / 298.257_223_563;

/// The way from one place to another.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct GeodesicWay {
    /// Millimeters over ground.
    pub millimeters: i64,
    /// The bearing at its beginning from true north, in hundredths of a degree, from 0 to 35999; 0 where both are one place.
    pub bearing: i32,
}

impl GeodesicWay {
    /// The way; none between places that are nearly opposite each other on the earth.
    #[must_use]
    pub fn between(from: &Position, to: &Position) -> Option<Self> {
        let degrees = |grains: i32| f64::from(grains) / 1e7;
        let place = |of: &Position| (degrees(of.latitude()), degrees(of.longitude()));
        let (meters, bearing) = inverse(place(from), place(to))?;
        #[expect(clippy::cast_possible_truncation, reason = "at most half the way around the earth")]
        let millimeters = libm::round(meters * 1000.0) as i64;
        #[expect(clippy::cast_possible_truncation, reason = "at most 36000")]
        let hundredths = (libm::round(bearing * 100.0) as i32).rem_euclid(36_000);
        Some(Self { millimeters, bearing: hundredths })
    }
}

/// Meters and degrees from north, by degrees of latitude and longitude.
fn inverse((lat1, lon1): (f64, f64), (lat2, lon2): (f64, f64)) -> Option<(f64, f64)> {
    let reduced = |latitude: f64| {
        let u = libm::atan((1.0 - F) * libm::tan(latitude.to_radians()));
        (libm::sin(u), libm::cos(u))
    };
    let ((sin1, cos1), (sin2, cos2)) = (reduced(lat1), reduced(lat2));
    let l = around(lon2 - lon1).to_radians();
    let mut lambda = l;
    for _ in 0..200 {
        let (sin_l, cos_l) = (libm::sin(lambda), libm::cos(lambda));
        let across = cos2 * sin_l;
        let along = cos1 * sin2 - sin1 * cos2 * cos_l;
        let sin_sigma = libm::sqrt(across * across + along * along);
        if sin_sigma == 0.0 {
            // One place, or its opposite, where there is no one way.
            return ((lat1 - lat2).abs() < 1.0).then_some((0.0, 0.0));
        }
        let cos_sigma = sin1 * sin2 + cos1 * cos2 * cos_l;
        let sigma = libm::atan2(sin_sigma, cos_sigma);
        let sin_alpha = cos1 * cos2 * sin_l / sin_sigma;
        let cos2_alpha = 1.0 - sin_alpha * sin_alpha;
        let cos_2m = if cos2_alpha < 1e-15 { 0.0 } else { cos_sigma - 2.0 * sin1 * sin2 / cos2_alpha };
        let c = F / 16.0 * cos2_alpha * (4.0 + F * (4.0 - 3.0 * cos2_alpha));
        let turned = 2.0 * cos_2m * cos_2m - 1.0;
        let next = l + (1.0 - c) * F * sin_alpha * (sigma + c * sin_sigma * (cos_2m + c * cos_sigma * turned));
        let is_settled = (next - lambda).abs() < 1e-12;
        lambda = next;
        if lambda.abs() > std::f64::consts::PI {
            return None;
        }
        if is_settled {
            let u2 = cos2_alpha * F * (2.0 - F) / ((1.0 - F) * (1.0 - F));
            let big_a = 1.0 + u2 / 16384.0 * (4096.0 + u2 * (-768.0 + u2 * (320.0 - 175.0 * u2)));
            let big_b = u2 / 1024.0 * (256.0 + u2 * (-128.0 + u2 * (74.0 - 47.0 * u2)));
            let third = cos_2m * (4.0 * sin_sigma * sin_sigma - 3.0) * (4.0 * cos_2m * cos_2m - 3.0);
            let inner = cos_sigma * turned - big_b / 6.0 * third;
            let change = big_b * sin_sigma * (cos_2m + big_b / 4.0 * inner);
            let meters = A * (1.0 - F) * big_a * (sigma - change);
            let (sin_l, cos_l) = (libm::sin(lambda), libm::cos(lambda));
            let bearing = libm::atan2(cos2 * sin_l, cos1 * sin2 - sin1 * cos2 * cos_l).to_degrees();
            return Some((meters, if bearing < 0.0 { bearing + 360.0 } else { bearing }));
        }
    }
    None
}

/// The same angle from -180 to 180 degrees.
fn around(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

#[cfg(test)]
mod tests {
    use super::{GeodesicWay, around, inverse};
    use crate::ground::Position;
    use serde::Deserialize;

    #[derive(Deserialize)]
    struct Geodesics {
        line: Vec<[f64; 6]>,
        county: Vec<[f64; 6]>,
    }

    /// Geodesics of GeographicLib's test set, and short ones that the Python package geographiclib 2.1 made.
    #[test]
    fn ways_are_those_of_geographiclib() {
        let lines: Geodesics = toml::from_str(include_str!("../../tests/refs/geodesics.toml")).unwrap();
        assert!(lines.line.len() > 10 && lines.county.len() > 20);
        for [lat1, lon1, azimuth, lat2, lon2, meters] in lines.line.into_iter().chain(lines.county) {
            let (is, bearing) = inverse((lat1, lon1), (lat2, lon2)).unwrap();
            assert!((is - meters).abs() < 0.001, "{lat1} {lon1}: {is} for {meters}");
            assert!(around(around(bearing) - around(azimuth)).abs() < 1e-6, "{lat1} {lon1}: {bearing}");
        }
    }

    /// Flinders Peak to Buninyong, the worked example of the Geocentric Datum of Australia Technical Manual (from memory): 54 972.271 m at
    /// 306° 52' 05.37", on GRS 80, whose flattening differs in the tenth digit.
    #[test]
    fn the_worked_example_comes_out() {
        let from = (-(37.0 + 57.0 / 60.0 + 3.7203 / 3600.0), 144.0 + 25.0 / 60.0 + 29.5244 / 3600.0);
        let to = (-(37.0 + 39.0 / 60.0 + 10.1561 / 3600.0), 143.0 + 55.0 / 60.0 + 35.3839 / 3600.0);
        let (meters, bearing) = inverse(from, to).unwrap();
        assert!((meters - 54_972.271).abs() < 0.001, "{meters}");
        assert!((bearing - (306.0 + 52.0 / 60.0 + 5.37 / 3600.0)).abs() < 1e-5, "{bearing}");
    }

    #[test]
    fn opposite_points_have_no_answer_and_one_place_has_no_way() {
        let way = |from, to| GeodesicWay::between(&Position::parse(from).unwrap(), &Position::parse(to).unwrap());
        assert_eq!(way("47, -109", "47, -109"), Some(GeodesicWay { millimeters: 0, bearing: 0 }));
        assert_eq!(way("0, 0", "0, 180"), None);
        // From pole to pole every meridian is the way: 20 003 931.459 m.
        assert_eq!(way("90, 0", "-90, 0").unwrap().millimeters, 20_003_931_459);
        assert_eq!(way("0, 179.9", "0, -179.9").unwrap().bearing, 9000);
        assert_eq!(way("46, -112", "47, -112").unwrap().bearing, 0);
    }
}
