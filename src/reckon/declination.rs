//! By how much a compass points beside true north.
//!
//! The World Magnetic Model of NOAA's National Centers for Environmental Information and the British Geological Survey, WMM2025 (to the end of
//! 2029), by the crate world_magnetic_model. Iron nearby, a car or a bridge, turns a compass more than any model knows.

use crate::ground::{Day, Position};
use chrono::Datelike;
use world_magnetic_model::GeomagneticField;
use world_magnetic_model::time::Date;
use world_magnetic_model::uom::si::angle::degree;
use world_magnetic_model::uom::si::f32::{Angle, Length};
use world_magnetic_model::uom::si::length::meter;

/// The years that the model is for, the first and the last.
pub const MODEL_YEARS: (i32, i32) = (2025, 2029);

/// Tenths of a degree that a compass points east of true north; west is negative. None outside the model's years, and where the field is too
/// nearly upright for a compass.
#[must_use]
pub fn declination(at: &Position, day: Day) -> Option<i32> {
    let date = day.as_date();
    if !(MODEL_YEARS.0..=MODEL_YEARS.1).contains(&date.year()) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "degrees as the model takes them")]
    let angle = |grains: i32| Angle::new::<degree>((f64::from(grains) / 1e7) as f32);
    let date = Date::from_ordinal_date(date.year(), u16::try_from(date.ordinal()).ok()?).ok()?;
    let field = GeomagneticField::new(Length::new::<meter>(0.0), angle(at.latitude()), angle(at.longitude()), date);
    let field = field.ok()?;
    // The model's makers warn of compasses where the horizontal field is under 6000 nT.
    let level = field.h().get::<world_magnetic_model::uom::si::magnetic_flux_density::nanotesla>();
    #[expect(clippy::cast_possible_truncation, reason = "at most 1800 tenths")]
    let tenths = libm::roundf(field.declination().get::<degree>() * 10.0) as i32;
    (level >= 6000.0).then_some(tenths)
}

#[cfg(test)]
mod tests {
    use super::declination;
    use crate::ground::{Day, Position};

    /// Table 6 of the WMM2025 technical report (doi 10.25923/prbc-s316), epoch 2025.0 at height 0, as the crate's own tests have it: 1.28,
    /// -0.16 and 68.78 degrees.
    #[test]
    fn compasses_point_where_the_model_s_report_says() {
        let of = |at: &str| declination(&Position::parse(at).unwrap(), Day::parse("2025-01-01").unwrap());
        assert_eq!([of("80, 0"), of("0, 120"), of("-80, -120")], [Some(13), Some(-2), Some(688)]);
        // Near the magnetic pole a compass is of no use.
        assert_eq!(of("85.8, 139.3"), None);
    }

    #[test]
    fn outside_its_years_the_model_says_nothing() {
        let at = Position::parse("46.6, -112").unwrap();
        let of = |day| declination(&at, Day::parse(day).unwrap());
        assert!(of("2024-12-31").is_none() && of("2030-01-01").is_none());
        assert!(of("2025-01-01").is_some() && of("2029-12-31").is_some());
    }
}
