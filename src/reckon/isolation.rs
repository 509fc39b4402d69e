//! What the distance of two antennas keeps from the other's receiver.
//!
//! Far field, common practice (formulas as used by planners, from memory): side by side 22 + 20 log(d / lambda) less both gains
//! toward each other; stacked on one vertical line 28 + 40 log(d / lambda). Figures are in tenths of a decibel.

use crate::ground::{Frequency, Power};

/// Speed of light in metres a second.
const LIGHT: f64 = 299_792_458.0;
/// Level at which a receiver of the trade begins to be blocked, in tenths of a dBm (common practice, no source).
const BLOCKED_AT: i32 = -250;
/// Gain of a half-wave dipole, in tenths of a dBi.
pub const DIPOLE: i32 = 21;

/// How two antennas stand to each other.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Standing {
    /// At one height.
    SideBySide,
    /// One above the other on one line.
    Stacked,
}

/// Isolation of two antennas `centimetres` apart at `frequency`, in tenths of a decibel, rounded down; `gains` is the sum of
/// both gains toward each other in tenths of a dBi (side by side alone). Never below 0.
#[must_use]
pub fn isolation(standing: Standing, centimetres: i64, frequency: Frequency, gains: i32) -> i32 {
    #[expect(clippy::cast_precision_loss, reason = "metres and hertz of any radio are far below 2^53")]
    let ratio = (centimetres.max(1) as f64 / 100.0) / (LIGHT / frequency.as_hertz() as f64);
    let decibels = match standing {
        Standing::SideBySide => 22.0 + 20.0 * libm::log10(ratio) - f64::from(gains) / 10.0,
        Standing::Stacked => 28.0 + 40.0 * libm::log10(ratio),
    };
    tenths(decibels).max(0)
}

/// The distance in centimetres at which two stacked antennas have `needed` tenths of a decibel.
#[must_use]
pub fn stacked_distance(needed: i32, frequency: Frequency) -> i64 {
    #[expect(clippy::cast_precision_loss, reason = "hertz of any radio are far below 2^53")]
    let wavelength = LIGHT / frequency.as_hertz() as f64;
    let metres = wavelength * libm::pow(10.0, (f64::from(needed) / 10.0 - 28.0) / 40.0);
    #[expect(clippy::cast_possible_truncation, reason = "a few hundred metres at most")]
    let centimetres = libm::ceil(metres * 100.0) as i64;
    centimetres
}

/// What a transmitter of `power` must be kept from a receiver so that it does not block it, in tenths of a decibel.
#[must_use]
pub fn needed_isolation(power: Power) -> i32 {
    #[expect(clippy::cast_precision_loss, reason = "milliwatts of any transmitter are far below 2^53")]
    let dbm = 10.0 * libm::log10(power.as_milliwatts().max(1) as f64);
    tenths(dbm) - BLOCKED_AT
}

/// Tenths of a decibel in whole ones, rounded up: what is needed is never said too small.
#[must_use]
pub fn decibels_needed(tenths: i32) -> String {
    format!("{} dB", (tenths + 9).div_euclid(10))
}

/// Tenths of a decibel in whole ones, rounded down: what is shown is never said too great.
#[must_use]
pub fn decibels_shown(tenths: i32) -> String {
    format!("{} dB", tenths.div_euclid(10))
}

fn tenths(decibels: f64) -> i32 {
    #[expect(clippy::cast_possible_truncation, reason = "decibels of radio lie within a few hundred")]
    let tenths = libm::floor(decibels * 10.0) as i32;
    tenths
}

#[cfg(test)]
mod tests {
    use super::{DIPOLE, Standing, isolation, needed_isolation, stacked_distance};
    use crate::ground::{Frequency, Power};

    /// Worked by hand at 146 MHz with two dipoles: 3, 10 and 30 m give 21, 32 and 41 dB side by side, 35, 56 and 75 dB stacked.
    #[test]
    fn distances_give_the_worked_decibels() {
        let at = Frequency::hertz(146_000_000).unwrap();
        let near = |tenths: i32, whole: i32| (tenths - whole * 10).abs() <= 6;
        for (metres, side, stacked) in [(3, 21, 35), (10, 32, 56), (30, 41, 75)] {
            let beside = isolation(Standing::SideBySide, metres * 100, at, 2 * DIPOLE);
            let above = isolation(Standing::Stacked, metres * 100, at, 0);
            assert!(near(beside, side) && near(above, stacked), "{metres} m: {beside} {above}");
        }
    }

    /// 50 W are 47 dBm; a receiver that blocks at -25 dBm needs 72 dB.
    #[test]
    fn fifty_watts_need_seventy_two_decibels() {
        assert_eq!(needed_isolation(Power::milliwatts(50_000)), 719);
        let at = Frequency::hertz(146_000_000).unwrap();
        let metres = stacked_distance(719, at);
        assert!(
            isolation(Standing::Stacked, metres, at, 0) >= 719 && isolation(Standing::Stacked, metres - 5, at, 0) < 719
        );
    }
}
