//! What the sun sends a day, and what a panel makes of it.
//!
//! R. Allen, L. Pereira, D. Raes, M. Smith, "Crop evapotranspiration", FAO Irrigation and Drainage Paper 56, 1998, equations 21 to 25, 34 and 35
//! (from memory): radiation above the air by latitude and day of the year, and under it by the share of the hours in which the sun shines,
//! 0.25 of it under cloud all day, 0.75 under a clear sky. Not for latitudes beyond 66.5 degrees, where the day may have no end.

use crate::ground::{Day, Position, Power};
use chrono::Datelike;

/// What comes to a level square meter on a day, in watt-hours.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DayOfSun {
    /// Under cloud all day.
    pub overcast: i64,
    /// Under a clear sky.
    pub clear: i64,
}

/// What of a panel's power comes out of the controller: dust, heat, a flat panel's angle, cables, charging (common practice, no source).
const EFFICIENCY: i64 = 70;

/// What comes to a place on a day. None beyond the polar circles.
#[must_use]
pub fn day_of_sun(at: &Position, day: Day) -> Option<DayOfSun> {
    let latitude = f64::from(at.latitude()) / 1e7;
    (latitude.abs() <= 66.5).then(|| {
        let above = above_air(latitude.to_radians(), day.as_date().ordinal());
        #[expect(clippy::cast_possible_truncation, reason = "some ten thousand watt-hours")]
        let watt_hours = |share: f64| libm::round(above * share / 0.0036) as i64;
        DayOfSun { overcast: watt_hours(0.25), clear: watt_hours(0.75) }
    })
}

/// Megajoules a square meter and a day above the air, equation 21.
fn above_air(latitude: f64, day: u32) -> f64 {
    let turn = 2.0 * std::f64::consts::PI * f64::from(day) / 365.0;
    let distance = 1.0 + 0.033 * libm::cos(turn); // 23
    let declination = 0.409 * libm::sin(turn - 1.39); // 24
    let set = libm::acos((-libm::tan(latitude) * libm::tan(declination)).clamp(-1.0, 1.0)); // 25
    let high = set * libm::sin(latitude) * libm::sin(declination);
    let low = libm::cos(latitude) * libm::cos(declination) * libm::sin(set);
    24.0 * 60.0 / std::f64::consts::PI * 0.0820 * distance * (high + low)
}

/// Watt-hours a day that a panel of that power gives through its controller: its power is rated at a thousand watts a square meter.
#[must_use]
pub fn panel_gives(panel: Power, sun: i64) -> i64 {
    let milliwatt_hours = i128::from(panel.as_milliwatts()) * i128::from(sun) / 1000 * i128::from(EFFICIENCY) / 100;
    i64::try_from(milliwatt_hours / 1000).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::{above_air, day_of_sun, panel_gives};
    use crate::ground::{Day, Position, Power};

    /// Example 8 of the paper: 20 degrees south on the 3rd of September, 32.2 MJ. Its annex 2, table 2.6: at the equator in January 36.2,
    /// at 40 degrees north in July 40.6 (days 15 and 196; from memory), to a quarter of a megajoule.
    #[test]
    fn above_the_air_it_is_as_the_paper_has_it() {
        assert!((above_air(-20.0_f64.to_radians(), 246) - 32.2).abs() < 0.05);
        assert!((above_air(0.0, 15) - 36.2).abs() < 0.25);
        assert!((above_air(40.0_f64.to_radians(), 196) - 40.6).abs() < 0.25);
    }

    /// Example 10: Rio de Janeiro, 22.9 degrees south, in May: 25.1 MJ above the air; a quarter and three quarters of it are 6.28 and 18.8 MJ,
    /// 1743 and 5229 Wh. The mean day of May is the 135th.
    #[test]
    fn under_the_air_it_is_a_quarter_to_three_quarters() {
        let may = day_of_sun(&Position::parse("-22.9, -43.2").unwrap(), Day::parse("2026-05-15").unwrap()).unwrap();
        assert!((may.overcast - 1743).abs() < 15 && (may.clear - 5229).abs() < 45, "{may:?}");
        let polar = Position::parse("70, 0").unwrap();
        assert!(day_of_sun(&polar, Day::parse("2026-05-15").unwrap()).is_none());
    }

    /// 50 W, four hours of full sun, 0.7: 140 Wh, which are 10.9 Ah at 12.8 V. Worked by hand.
    #[test]
    fn a_panel_gives_its_power_for_hours_of_full_sun() {
        assert_eq!(panel_gives(Power::milliwatts(50_000), 4000), 140);
        assert_eq!(panel_gives(Power::milliwatts(u64::MAX), i64::MAX), i64::MAX);
    }
}
