//! A line across the map that a rule is bound to, and on which side of it a place lies.
//!
//! On a sphere, as distances are reckoned. Trigonometry is libm's, so that every machine agrees.

use super::great_circle::{RADIUS, radians};
use super::{Distance, Position, Shelf};

/// How a line runs to a point from the one before.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Course {
    /// The shortest way.
    GreatCircle,
    /// Along a circle of latitude.
    Parallel,
    /// Along a meridian.
    Meridian,
}

/// A line from point to point. It does not reach over the 180th meridian.
#[derive(Debug)]
pub struct Border {
    legs: Vec<BorderLeg>,
    /// How far places lie from it, by latitude and longitude: each channel asks it of all places of a state, and there are hundreds of legs.
    far: Shelf<(i32, i32), Distance>,
}

/// So many places are remembered.
const PLACES: usize = 10_000;

impl Clone for Border {
    fn clone(&self) -> Self {
        Self { legs: self.legs.clone(), far: Shelf::default() }
    }
}

impl PartialEq for Border {
    fn eq(&self, other: &Self) -> bool {
        self.legs == other.legs
    }
}

/// From one point to the next, in radians.
#[derive(Clone, Copy, PartialEq, Debug)]
struct BorderLeg {
    from: BorderSpot,
    to: BorderSpot,
    course: Course,
}

#[derive(Clone, Copy, PartialEq, Debug)]
struct BorderSpot {
    latitude: f64,
    longitude: f64,
}

impl BorderSpot {
    fn of(at: &Position) -> Self {
        Self { latitude: radians(at.latitude()), longitude: radians(at.longitude()) }
    }

    /// As a vector of length one.
    fn vector(self) -> [f64; 3] {
        let across = libm::cos(self.latitude);
        [across * libm::cos(self.longitude), across * libm::sin(self.longitude), libm::sin(self.latitude)]
    }
}

impl Border {
    /// A line through points, each with how it is reached; how the first is reached says nothing. None for fewer than two points,
    /// for a parallel between two latitudes and for a meridian between two longitudes.
    #[must_use]
    pub fn through(points: &[(Position, Course)]) -> Option<Self> {
        let legs: Vec<BorderLeg> = points
            .windows(2)
            .filter_map(|pair| match pair {
                [(from, _), (to, course)] => {
                    let is_sound = match course {
                        Course::GreatCircle => true,
                        Course::Parallel => from.latitude() == to.latitude(),
                        Course::Meridian => from.longitude() == to.longitude(),
                    };
                    is_sound.then(|| BorderLeg { from: BorderSpot::of(from), to: BorderSpot::of(to), course: *course })
                }
                _ => None,
            })
            .collect();
        (!legs.is_empty() && legs.len() + 1 == points.len()).then(|| Self { legs, far: Shelf::default() })
    }

    /// Whether a place lies north of the line: the way due south from it crosses the line an odd number of times. None beyond the
    /// line's western or eastern end, unless the place lies south of all of it.
    #[must_use]
    pub fn is_north(&self, at: &Position) -> Option<bool> {
        let at = BorderSpot::of(at);
        let ends = || self.legs.iter().flat_map(|leg| [leg.from, leg.to]);
        let west = ends().map(|end| end.longitude).fold(f64::INFINITY, f64::min);
        let east = ends().map(|end| end.longitude).fold(f64::NEG_INFINITY, f64::max);
        if at.longitude < west || at.longitude >= east {
            return ends().all(|end| at.latitude < end.latitude).then_some(false);
        }
        let crossed = self.legs.iter().filter_map(|leg| leg.latitude_at(at.longitude));
        Some(crossed.filter(|latitude| *latitude <= at.latitude).count() % 2 == 1)
    }

    /// The distance from a place to the line, in whole metres.
    #[must_use]
    pub fn distance_to(&self, at: &Position) -> Distance {
        self.far.get_of(PLACES, (at.latitude(), at.longitude()), || self.reckoned_to(BorderSpot::of(at)))
    }

    fn reckoned_to(&self, at: BorderSpot) -> Distance {
        let nearest = self.legs.iter().map(|leg| leg.angle_to(at)).fold(f64::INFINITY, f64::min);
        #[expect(clippy::cast_possible_truncation, reason = "at most half the earth's circumference")]
        let metres = libm::round(nearest * RADIUS) as i64;
        Distance::metres(metres)
    }
}

impl BorderLeg {
    /// Where the leg crosses a meridian; its western end belongs to it, its eastern one to the next leg.
    fn latitude_at(&self, longitude: f64) -> Option<f64> {
        let Self { from, to, course } = *self;
        let (west, east) = (from.longitude.min(to.longitude), from.longitude.max(to.longitude));
        if longitude < west || longitude >= east {
            return None;
        }
        if course == Course::Parallel {
            return Some(from.latitude);
        }
        let (before, after) = (libm::sin(to.longitude - longitude), libm::sin(longitude - from.longitude));
        let rise = libm::tan(from.latitude) * before + libm::tan(to.latitude) * after;
        Some(libm::atan(rise / libm::sin(to.longitude - from.longitude)))
    }

    /// The angle at the earth's centre between a place and the nearest point of the leg.
    fn angle_to(&self, at: BorderSpot) -> f64 {
        let Self { from, to, course } = *self;
        let to_ends = angle(from.vector(), at.vector()).min(angle(to.vector(), at.vector()));
        let beside = if course == Course::Parallel {
            let (west, east) = (from.longitude.min(to.longitude), from.longitude.max(to.longitude));
            (west..=east).contains(&at.longitude).then_some((at.latitude - from.latitude).abs())
        } else {
            let (start, end, place) = (from.vector(), to.vector(), at.vector());
            let pole = cross(start, end);
            let is_beside = dot(cross(pole, start), place) >= 0.0 && dot(cross(end, pole), place) >= 0.0;
            let sine = dot(pole, place) / libm::sqrt(dot(pole, pole));
            is_beside.then(|| libm::asin(sine.clamp(-1.0, 1.0)).abs())
        };
        beside.map_or(to_ends, |beside| beside.min(to_ends))
    }
}

fn dot([a, b, c]: [f64; 3], [x, y, z]: [f64; 3]) -> f64 {
    a * x + b * y + c * z
}

fn cross([a, b, c]: [f64; 3], [x, y, z]: [f64; 3]) -> [f64; 3] {
    [b * z - c * y, c * x - a * z, a * y - b * x]
}

fn angle(one: [f64; 3], other: [f64; 3]) -> f64 {
    let sine = libm::sqrt(dot(cross(one, other), cross(one, other)));
    libm::atan2(sine, dot(one, other))
}

#[cfg(test)]
mod tests {
    use super::{Border, Course};
    use crate::ground::Position;

    fn at(text: &str) -> Position {
        Position::parse(text).unwrap()
    }

    fn line(points: &[(&str, Course)]) -> Option<Border> {
        Border::through(&points.iter().map(|(text, course)| (at(text), *course)).collect::<Vec<_>>())
    }

    /// By hand: a degree of latitude is 111.195 km; the great circle between two points of the equator is the equator.
    #[test]
    fn sides_and_distances_as_worked_by_hand() {
        let equator = line(&[("0, 10", Course::GreatCircle), ("0, 30", Course::GreatCircle)]).unwrap();
        assert_eq!(equator.is_north(&at("1, 20")), Some(true));
        assert_eq!(equator.is_north(&at("-1, 20")), Some(false));
        assert_eq!(equator.distance_to(&at("1, 20")).as_metres(), 111_195);
        assert_eq!(equator.distance_to(&at("0, 9")).as_metres(), 111_195, "beyond the end");
        assert_eq!((equator.is_north(&at("1, 9")), equator.is_north(&at("-1, 31"))), (None, Some(false)));
        // At 60 degrees north the great circle over 20 degrees of longitude rises to atan(tan 60 / cos 10) = 60.37835 degrees.
        let ends = |course| line(&[("60, 10", course), ("60, 30", course)]).unwrap();
        let (circle, parallel) = (ends(Course::GreatCircle), ends(Course::Parallel));
        assert_eq!(
            (circle.is_north(&at("60.3784, 20")), circle.is_north(&at("60.3783, 20"))),
            (Some(true), Some(false))
        );
        assert_eq!((parallel.is_north(&at("60.2, 20")), circle.is_north(&at("60.2, 20"))), (Some(true), Some(false)));
        assert_eq!(parallel.distance_to(&at("60.2, 20")).as_metres(), 22_239);
    }

    #[test]
    fn a_line_may_turn_down_a_meridian_and_back_west() {
        let points = [
            ("50, 0", Course::GreatCircle),
            ("50, 10", Course::Parallel),
            ("40, 10", Course::Meridian),
            ("40, 20", Course::Parallel),
            ("30, 15", Course::GreatCircle),
        ];
        let line = line(&points).unwrap();
        let sides = ["45, 9", "45, 11", "39, 19", "41, 19", "29, 16"].map(|text| line.is_north(&at(text)));
        assert_eq!(sides, [Some(false), Some(true), Some(true), Some(false), Some(false)]);
    }

    #[test]
    fn a_parallel_keeps_its_latitude_and_a_meridian_its_longitude() {
        assert_eq!(line(&[("50, 0", Course::Parallel)]), None);
        assert_eq!(line(&[("50, 0", Course::Parallel), ("51, 1", Course::Parallel)]), None);
        assert_eq!(line(&[("50, 0", Course::Parallel), ("51, 1", Course::Meridian)]), None);
    }
}
