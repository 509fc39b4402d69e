//! What is lost on the way through free space, and what is left of a signal.
//!
//! Free-space loss 20 log10(4 pi d / lambda) (ITU-R P.525-4, from memory): 32.45 + 20 log10(MHz) + 20 log10(km). No hill, house or tree stands
//! in free space: it is the least that is lost.

use crate::ground::{Decibels, Frequency, Gain, Power};

/// What a receiver of FM voice wants at its jack, in hundredths of a decibel over a milliwatt: a microvolt in 50 ohms (common practice, no
/// source).
pub const WANTED: i64 = -10_699;

/// Hundredths of a decibel lost between antennas without gain. None at no distance.
#[must_use]
pub fn free_space_loss(on: Frequency, millimeters: i64) -> Option<i64> {
    #[expect(clippy::cast_precision_loss, reason = "hertz of radios and the way round the earth are far below 2^53")]
    let (hertz, meters) = (on.as_hertz() as f64, millimeters as f64 / 1000.0);
    let turns = 4.0 * std::f64::consts::PI * meters * hertz / 299_792_458.0;
    #[expect(clippy::cast_possible_truncation, reason = "some hundred decibels")]
    let loss = (millimeters > 0).then(|| libm::round(2000.0 * libm::log10(turns)) as i64);
    // Nearer than a wavelength the formula gives a gain, which there is none.
    loss.map(|loss| loss.max(0))
}

/// One end of a path: its antenna's gain less its feed line's loss, in hundredths of a decibel. What is not known is a half-wave dipole and a
/// feed line that loses nothing.
#[must_use]
pub fn end_gain(gain: Option<Gain>, loss: Option<Decibels>) -> i64 {
    i64::from(gain.map_or(215, Gain::over_isotropic)) - i64::from(loss.map_or(0, Decibels::as_hundredths))
}

/// Hundredths of a decibel over a milliwatt.
#[must_use]
pub fn over_milliwatt(power: Power) -> i64 {
    #[expect(clippy::cast_precision_loss, reason = "a megawatt in milliwatts is far below 2^53")]
    let milliwatts = power.as_milliwatts().max(1) as f64;
    #[expect(clippy::cast_possible_truncation, reason = "at most 90 dB")]
    let hundredths = libm::round(1000.0 * libm::log10(milliwatts)) as i64;
    hundredths
}

#[cfg(test)]
mod tests {
    use super::{end_gain, free_space_loss, over_milliwatt};
    use crate::ground::{Decibels, Frequency, Gain, Power};

    /// Computed apart from this program from 20 log10(4 pi d / lambda): megahertz, meters, hundredths of a decibel.
    #[test]
    fn free_space_is_that_of_the_recommendation() {
        for (on, meters, loss) in [
            ("146.52 MHz", 1_000, 7577),
            ("146.52 MHz", 10_000, 9577),
            ("146.52 MHz", 50_000, 10_975),
            ("446 MHz", 10_000, 10_543),
            ("7.1 MHz", 100_000, 8947),
            ("1000 MHz", 1_000, 9245),
            ("2400 MHz", 100, 8005),
        ] {
            let on = Frequency::parse(on).unwrap();
            assert_eq!(free_space_loss(on, meters * 1000), Some(loss), "{on} {meters}");
        }
        let on = Frequency::parse("7 MHz").unwrap();
        assert_eq!((free_space_loss(on, 0), free_space_loss(on, -5), free_space_loss(on, 1)), (None, None, Some(0)));
    }

    #[test]
    fn power_and_antennas_are_decibels() {
        let power = |text| over_milliwatt(Power::parse(text).unwrap());
        assert_eq!([power("1 mW"), power("5 W"), power("50 W"), power("100 W")], [0, 3699, 4699, 5000]);
        assert_eq!(end_gain(None, None), 215);
        assert_eq!(end_gain(Gain::parse("6 dBd").ok(), Decibels::parse("1.5 dB").ok()), 665);
    }
}
