//! When the sun rises and sets at a place, and how long it is light enough to walk.
//!
//! The sun's place by Reda and Andreas, "Solar Position Algorithm for Solar Radiation Applications", NREL/TP-560-34302, by the crate
//! solar-positioning with libm's trigonometry. Rise and set: the upper edge on the horizon, the center 50 minutes of arc under it; civil twilight to 6
//! degrees under it (U.S. Naval Observatory's definitions, from memory). Of a flat horizon at sea level: a hill hides it longer.

use crate::ground::{Day, Position};
use crate::plan::{Clock, Instant, Period};
use chrono::Datelike;
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, SolarEvents, SolarPositions};

/// What the sun does on a day, in the local time of the plan. A time that is none does not come on that day.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Sun {
    /// When civil twilight begins.
    pub dawn: Option<Instant>,
    /// When it rises.
    pub rise: Option<Instant>,
    /// When it sets.
    pub set: Option<Instant>,
    /// When civil twilight ends.
    pub dusk: Option<Instant>,
    /// Where it neither rises nor sets: whether it is up all day.
    pub is_up: Option<bool>,
}

/// Minutes from the Julian epoch to that of [`Instant`], 1970-01-01 00:00 UTC: Julian date 2440587.5.
const EPOCH: f64 = 2_440_587.5;

/// The sun over a place on a day; none for years of which nobody knows the length of a day well enough.
#[must_use]
pub fn sun(clock: Clock, day: Day, at: &Position) -> Option<Sun> {
    let location = Location { latitude: f64::from(at.latitude()) / 1e7, longitude: f64::from(at.longitude()) / 1e7 };
    let next = Day::from_date(day.as_date().succ_opt()?);
    let within = Period { from: clock.begins(day), to: clock.begins(next) };
    let year = f64::from(day.as_date().year()) + f64::from(day.as_date().ordinal()) / 366.0;
    let delta = solar_positioning::delta_t::estimate(year).ok()?;
    let (from, to) = (julian(within.from), julian(within.to));
    let events = SolarEvents::new();
    let rises = |horizon| events.next_rise_from_julian(from, to, location, delta, horizon).ok();
    let sets = |horizon| events.next_set_from_julian(from, to, location, delta, horizon).ok();
    let (rise, set) = (rises(Horizon::SunriseSunset)?, sets(Horizon::SunriseSunset)?);
    let is_up = (rise.is_none() && set.is_none()).then(|| is_up_at(from, location, delta)).flatten();
    let minute = |jd: Option<f64>| jd.map(instant);
    Some(Sun {
        dawn: minute(rises(Horizon::CivilTwilight)?),
        rise: minute(rise),
        set: minute(set),
        dusk: minute(sets(Horizon::CivilTwilight)?),
        is_up,
    })
}

fn julian(at: Instant) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "minutes of ten thousand years are far below 2^53")]
    let minutes = at.as_minutes() as f64;
    EPOCH + minutes / 1440.0
}

/// To the nearest minute, as almanacs print it.
fn instant(jd: f64) -> Instant {
    #[expect(clippy::cast_possible_truncation, reason = "within the calendar")]
    let minutes = libm::round((jd - EPOCH) * 1440.0) as i64;
    Instant::minutes(minutes)
}

fn is_up_at(jd: f64, location: Location, delta: f64) -> Option<bool> {
    let position = SolarPositions::new().at_from_julian(JulianDate::new(jd, delta).ok()?, location, 0.0, None).ok()?;
    Some(position.elevation_angle() > Horizon::SunriseSunset.elevation_angle())
}

#[cfg(test)]
mod tests {
    use super::sun;
    use crate::ground::{Day, Position, TimeZone};
    use crate::plan::{Clock, Instant};
    use serde::Deserialize;
    use solar_positioning::time::JulianDate;
    use solar_positioning::{Location, RefractionCorrection, SolarPositions};

    /// The worked example of NREL/TP-560-34302, appendix A.5: 2003-10-17 12:30:30 at UTC-7.
    #[test]
    fn the_worked_example_of_the_algorithm_comes_out() {
        let time = JulianDate::from_utc(2003, 10, 17, 19, 30, 30.0, 67.0).unwrap();
        let location = Location { latitude: 39.742_476, longitude: -105.1786 };
        let air = RefractionCorrection::new(820.0, 11.0).unwrap();
        let is = SolarPositions::new().at_from_julian(time, location, 1830.14, Some(air)).unwrap();
        assert!((is.zenith_angle() - 50.11162).abs() < 1e-4, "{}", is.zenith_angle());
        assert!((is.azimuth() - 194.34024).abs() < 1e-4, "{}", is.azimuth());
        // 06:12:43 and 17:20:19 in the report, to the nearest minute. It reckons a day of UTC, in which the sun sets on the evening of the 16th.
        let of = |day| sun(clock("America/Phoenix"), Day::parse(day).unwrap(), &at("39.742476, -105.1786")).unwrap();
        assert_eq!(told("America/Phoenix", of("2003-10-17").rise), "06:13");
        assert_eq!(told("America/Phoenix", of("2003-10-16").set), "17:20");
    }

    #[derive(Deserialize)]
    struct Days {
        day: Vec<AstralDay>,
    }

    #[derive(Deserialize)]
    struct AstralDay {
        place: String,
        zone: String,
        day: String,
        dawn: String,
        rise: String,
        set: String,
        dusk: String,
    }

    /// Days that the Python package astral 3.2 made, to two minutes: its algorithm is another.
    #[test]
    fn days_are_those_of_astral() {
        let days: Days = toml::from_str(include_str!("../../tests/refs/sun.toml")).unwrap();
        assert!(days.day.len() > 30);
        let minutes = |text: &str| text[..2].parse::<i64>().unwrap() * 60 + text[3..].parse::<i64>().unwrap();
        for of in days.day {
            let is = sun(clock(&of.zone), Day::parse(&of.day).unwrap(), &at(&of.place)).unwrap();
            for (is, told_as) in [(is.dawn, of.dawn), (is.rise, of.rise), (is.set, of.set), (is.dusk, of.dusk)] {
                let told = told(&of.zone, is);
                assert!(
                    (minutes(&told) - minutes(&told_as)).abs() <= 2,
                    "{} {}: {told} for {told_as}",
                    of.place,
                    of.day
                );
            }
        }
    }

    #[test]
    fn in_the_far_north_the_sun_stays_up_or_down() {
        let of = |day| sun(clock("UTC"), Day::parse(day).unwrap(), &at("78.2, 15.6")).unwrap();
        let (summer, winter) = (of("2026-06-21"), of("2026-12-21"));
        assert_eq!((summer.rise, summer.set, summer.is_up), (None, None, Some(true)));
        assert_eq!((winter.rise, winter.dusk, winter.is_up), (None, None, Some(false)));
        assert!(of("2026-03-21").is_up.is_none());
    }

    fn clock(zone: &str) -> Clock {
        Clock::in_zone(TimeZone::named(zone).unwrap())
    }

    fn at(text: &str) -> Position {
        Position::parse(text).unwrap()
    }

    fn told(zone: &str, at: Option<Instant>) -> String {
        clock(zone).local(at.unwrap()).to_string()[11..].to_owned()
    }
}
