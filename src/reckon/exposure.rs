//! How far people keep from an antenna that sends.
//!
//! Limits are those of the profile, as power density. Distance: S = 2.56 EIRP / (4 pi R²), the usual reflection by the ground included
//! (OET Bulletin 65, 1997, from memory). Valid in the far field alone: nearer than the wavelength through 2 pi nothing is reckoned, and that is the
//! least that is said. Every distance is rounded up to a decimeter.

use crate::ground::{Decibels, Frequency, Gain, Power, Share};
use crate::plan::Mode;
use crate::tables::ExposureLimit;
use std::fmt;

/// A distance to keep, in whole decimeters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Clearance(u32);

impl Clearance {
    /// Rounded up; what is beyond all sense counts as the largest there is.
    fn up(meters: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within its range by the clamp")]
        Self(libm::ceil(meters * 10.0 - 1e-9).clamp(0.0, f64::from(u32::MAX)) as u32)
    }

    /// The number of decimeters.
    #[must_use]
    pub const fn as_decimeters(self) -> u32 {
        self.0
    }
}

impl fmt::Display for Clearance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{} m", self.0 / 10, self.0 % 10)
    }
}

/// What an antenna sends, as the limits look at it.
#[derive(Clone, Copy, Debug)]
pub struct Radiated {
    frequency: Frequency,
    /// Milliwatts over an isotropic antenna, on the average.
    eirp: f64,
}

/// How far to keep, and for whom.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct KeepOff {
    /// Anybody.
    pub public: Clearance,
    /// Who knows of it and can go away.
    pub controlled: Clearance,
    /// No evaluation is asked for where nobody comes nearer; none where the rule has no such test.
    pub exempt: Option<Clearance>,
    /// Whether the field reckoned nearer than where it can be reckoned at all: the distance is then the wavelength through 2 pi.
    pub is_near: bool,
}

/// The part of a transmitter's power that counts while it is keyed (OET Bulletin 65, Supplement B, from memory), in thousandths.
#[must_use]
pub const fn duty_of(mode: Mode) -> Share {
    match mode {
        Mode::Ssb => Share::grains(200),
        Mode::Cw => Share::grains(400),
        _ => Share::grains(1000),
    }
}

impl Radiated {
    /// Power into the feed line, for so much of the time, through a feed line and an antenna. A feed line that is not known loses nothing, a
    /// gain that is not known is that of a half-wave dipole.
    #[must_use]
    pub fn of(
        power: Power,
        (mode, share): (Mode, Share),
        gain: Option<Gain>,
        loss: Option<Decibels>,
        on: Frequency,
    ) -> Self {
        let gain = gain.map_or(215, Gain::over_isotropic) - loss.map_or(0, Decibels::as_hundredths);
        let part =
            f64::from(u16::try_from(duty_of(mode).as_grains() * share.as_grains() / 1000).unwrap_or(1000)) / 1000.0;
        #[expect(clippy::cast_precision_loss, reason = "a megawatt in milliwatts is far below 2^53")]
        let power = power.as_milliwatts() as f64;
        Self { frequency: on, eirp: power * part * libm::pow(10.0, f64::from(gain) / 1000.0) }
    }

    /// How far to keep, by a country's limits. None where it has none at this frequency.
    #[must_use]
    pub fn keep_off(self, limits: &[ExposureLimit]) -> Option<KeepOff> {
        let mhz = megahertz(self.frequency);
        let limit = limit_at(limits, self.frequency)?;
        let public = limit.public.at(mhz);
        let controlled = limit.controlled.map_or(public, |limit| limit.at(mhz));
        // Milliwatts, square centimeters: R = sqrt(2.56 EIRP / (4 pi S)) in centimeters.
        let apart = |limit: f64| libm::sqrt(2.56 * self.eirp / (4.0 * std::f64::consts::PI * limit)) / 100.0;
        let least = 299.792_458 / mhz / (2.0 * std::f64::consts::PI);
        let erp_watts = self.eirp / 1640.0;
        let exempt = limit.exempt.map(|at_one_meter| libm::sqrt(erp_watts / at_one_meter.at(mhz)));
        Some(KeepOff {
            public: Clearance::up(apart(public).max(least)),
            controlled: Clearance::up(apart(controlled).max(least)),
            exempt: exempt.map(|apart| Clearance::up(apart.max(least))),
            is_near: apart(public) < least,
        })
    }

    /// Watts over an isotropic antenna, on the average, rounded to tenths.
    #[must_use]
    pub fn eirp_tenths(self) -> i64 {
        #[expect(clippy::cast_possible_truncation, reason = "megawatts through an antenna of 200 dB saturate")]
        let tenths = libm::round(self.eirp / 100.0) as i64;
        tenths
    }
}

fn megahertz(frequency: Frequency) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "hertz of any radio are far below 2^53")]
    let hertz = frequency.as_hertz() as f64;
    hertz / 1e6
}

/// The limits that hold at a frequency: the upper row where two meet.
#[must_use]
pub fn limit_at(limits: &[ExposureLimit], on: Frequency) -> Option<&ExposureLimit> {
    limits.iter().filter(|row| row.edges.has(on)).max_by_key(|row| row.edges.low())
}

/// How far a transmitter stays from patients' equipment until its keepers say otherwise: 1.2 x sqrt(P) up to 800 MHz, from there on 2.3 x
/// sqrt(P), meters and watts (IEC 60601-1-2, editions of 2001 and 2007, as makers' manuals have it; the edition of 2014 has no such
/// distances). None outside 150 kHz to 2.5 GHz.
#[must_use]
pub fn from_patients(power: Power, on: Frequency) -> Option<Clearance> {
    let mhz = megahertz(on);
    let factor = match mhz {
        f if !(0.15..=2500.0).contains(&f) => return None,
        f if f < 800.0 => 1.2,
        _ => 2.3,
    };
    #[expect(clippy::cast_precision_loss, reason = "a megawatt in milliwatts is far below 2^53")]
    let watts = power.as_milliwatts() as f64 / 1000.0;
    Some(Clearance::up(factor * libm::sqrt(watts)))
}

#[cfg(test)]
mod tests {
    use super::{Clearance, Radiated, from_patients, limit_at, megahertz};
    use crate::ground::{Decibels, Frequency, Gain, Power, Share};
    use crate::plan::Mode;
    use crate::tables::{ExposureLimit, Tables};

    fn limits(profile: &str) -> Vec<ExposureLimit> {
        Tables::built_in().profile(profile).unwrap().exposure_limits.clone()
    }

    fn at(profile: &str, on: &str) -> Option<(f64, f64, Option<f64>)> {
        let (limits, on) = (limits(profile), Frequency::parse(on).unwrap());
        let (row, mhz) = (limit_at(&limits, on)?, megahertz(on));
        Some((row.public.at(mhz), row.controlled.unwrap().at(mhz), row.exempt.map(|exempt| exempt.at(mhz))))
    }

    fn sent(power: &str, mode: Mode, share: i64, gain: &str, on: &str) -> Radiated {
        let power = Power::parse(power).unwrap();
        let (gain, on) = (Gain::parse(gain).unwrap(), Frequency::parse(on).unwrap());
        Radiated::of(power, (mode, Share::grains(share)), Some(gain), Some(Decibels::parse("0 dB").unwrap()), on)
    }

    /// Average EIRP in tenths of a watt and distances with the 2.56 of the ground, worked out apart from this program; rounded up to decimeters,
    /// and no less than the wavelength through 2 pi.
    #[test]
    fn distances_are_those_of_the_bulletin_s_formula() {
        for (of, eirp, controlled, public) in [
            (sent("50 W", Mode::Fm, 500, "2.15 dBi", "146.52 MHz"), 410, 10, 21), // 0.9141, 2.0439 m
            (sent("100 W", Mode::Ssb, 500, "2.15 dBi", "14.2 MHz"), 164, 34, 34), // 0.27, 0.61: under 3.36 m
            (sent("100 W", Mode::Ssb, 500, "2.15 dBi", "29.0 MHz"), 164, 17, 17), // 0.56, 1.25: under 1.65 m
            (sent("5 W", Mode::Fm, 500, "0 dBi", "446.0 MHz"), 25, 2, 5),         // 0.1851, 0.4139 m
            (sent("50 W", Mode::Fm, 1000, "6 dBi", "52.525 MHz"), 1991, 21, 46),  // 2.0137, 4.5028 m
            (sent("50 W", Mode::Fm, 1000, "2.15 dBi", "146 MHz"), 820, 13, 29),   // 1.29, 2.89 m
        ] {
            let is = of.keep_off(&limits("us")).unwrap();
            assert_eq!(of.eirp_tenths(), eirp);
            assert_eq!((is.controlled.as_decimeters(), is.public.as_decimeters()), (controlled, public), "{of:?}");
        }
    }

    /// The threshold at 1 m and 444 MHz is 5.6832 W of ERP (a public formula file that cites FCC 19-126): 5.6832 x 1.64 W over an
    /// isotropic antenna are exempt from 1 m on.
    #[test]
    fn the_exemption_is_that_of_the_rule() {
        let exempt = |on: &str| at("us", on).unwrap().2.unwrap();
        assert!((exempt("444 MHz") - 5.6832).abs() < 1e-9);
        // Rows join where they meet: 3450 / 1.34² = 1921, 3450 / 30² = 3.83, 0.0128 x 300 = 3.84.
        assert!((exempt("1.34 MHz") - 1921.4).abs() < 0.1);
        assert!((exempt("29.999 MHz") - 3.83).abs() < 0.01);
        assert!((exempt("300 MHz") - 3.84).abs() < 0.01);
        let exempt = sent("9320 mW", Mode::Fm, 1000, "0 dBi", "444 MHz").keep_off(&limits("us")).unwrap().exempt;
        assert_eq!(exempt, Some(Clearance(10)));
    }

    #[test]
    fn limits_are_those_of_the_table_and_the_upper_row_holds_at_its_edge() {
        let near = |profile: &str, on: &str, public: f64, controlled: f64| {
            let (is, worked, _) = at(profile, on).unwrap();
            assert!((is - public).abs() < 1e-4 && (worked - controlled).abs() < 1e-4, "{on}: {is} {worked}");
        };
        near("us", "300 kHz", 100.0, 100.0);
        near("us", "14.2 MHz", 0.89268, 4.4634);
        near("us", "30 MHz", 0.2, 1.0);
        near("us", "146.52 MHz", 0.2, 1.0);
        near("us", "446 MHz", 0.297_333, 1.486_667);
        near("us", "1500 MHz", 1.0, 5.0);
        assert!(at("us", "290 kHz").is_none());
        // 28 V/m: 28 x 28 / 377 ohms = 2.08 W/m², printed as 2 W/m² = 0.2 mW/cm²; 61 V/m: 1; 87 / sqrt(7.1) V/m: 0.28.
        for profile in ["de", "region-1"] {
            near(profile, "145.5 MHz", 0.2, 1.0);
            near(profile, "433.5 MHz", 0.216_75, 1.083_75);
            near(profile, "7.1 MHz", 0.281_69, 1.957_94);
            assert_eq!(at(profile, "145.5 MHz").unwrap().2, None);
        }
    }

    /// Watts and meters as makers' manuals have them: 0.12, 0.38, 1.2, 3.8, 12 and 0.23, 0.73, 2.3, 7.3, 23; 50 W: 8.5 m.
    #[test]
    fn patients_equipment_is_as_far_as_manuals_say() {
        let at = |power: &str, on: &str| {
            from_patients(Power::parse(power).unwrap(), Frequency::parse(on).unwrap()).unwrap().as_decimeters()
        };
        let row = |on: &str| ["10 mW", "100 mW", "1 W", "10 W", "100 W"].map(|power| at(power, on));
        assert_eq!(row("146 MHz"), [2, 4, 12, 38, 120]);
        assert_eq!(row("800 MHz"), [3, 8, 23, 73, 230]);
        assert_eq!(at("50 W", "146 MHz"), 85);
        assert!(from_patients(Power::milliwatts(1), Frequency::parse("3 GHz").unwrap()).is_none());
    }
}
