//! What a wire takes of the voltage.
//!
//! Diameter in mm = 0.127 x 92^((36 - n) / 39) (ASTM B258, from memory); resistance by 1.7241e-8 ohm meters of annealed copper at 20
//! degrees (IEC 60028, from memory). Stranded, hot or corroded wire and its crimps have more: it is the least that is lost.

use crate::ground::{Current, Gauge, Run, Voltage};

/// Microohms of a meter of one conductor, rounded to the nearest. A wire of no area is none that can be written.
#[must_use]
pub fn microohms_per_meter(gauge: Gauge) -> i64 {
    let square_mm = match gauge {
        Gauge::Awg(n) => {
            let diameter = 0.127 * libm::pow(92.0, f64::from(36 - i32::from(n)) / 39.0);
            std::f64::consts::PI * diameter * diameter / 4.0
        }
        Gauge::Area(hundredths) => f64::from(hundredths.max(1)) / 100.0,
    };
    #[expect(clippy::cast_possible_truncation, reason = "at most some ohms a meter")]
    let microohms = libm::round(17_241.0 / square_mm) as i64;
    microohms
}

/// What is lost there and back over a cable of two such wires, rounded up to the millivolt.
#[must_use]
pub fn drop(gauge: Gauge, run: Run, current: Current) -> Voltage {
    // Microohms a meter x millimeters x milliamperes are 10^-12 of a volt.
    let factors = [2, microohms_per_meter(gauge), run.as_grains(), current.as_grains()];
    let picovolts = factors.iter().fold(1_i128, |product, factor| product.saturating_mul(i128::from(*factor)));
    Voltage::grains(i64::try_from(picovolts.saturating_add(999_999_999) / 1_000_000_000).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::{drop, microohms_per_meter};
    use crate::ground::{Current, Gauge, Run, Voltage};

    /// Ohms a kilometer at 20 degrees as the usual wire tables have them, and the drop over 5 m at 20 A, computed apart from this program.
    #[test]
    fn wires_of_the_gauge_are_those_of_the_tables() {
        for (awg, microohms, millivolts) in [
            (4, 815, 163),
            (6, 1296, 259),
            (8, 2061, 412),
            (10, 3277, 655),
            (12, 5211, 1042),
            (14, 8285, 1657),
            (16, 13_174, 2635),
            (18, 20_948, 4190),
            (20, 33_308, 6662),
            (22, 52_962, 10_592),
            (24, 84_213, 16_843),
        ] {
            assert_eq!(microohms_per_meter(Gauge::Awg(awg)), microohms, "{awg}");
            let lost = drop(Gauge::Awg(awg), Run::grains(5000), Current::grains(20_000)).as_grains();
            assert!((lost - millivolts).abs() <= 1, "{awg}: {lost}");
        }
        // 17.241 / 2.5 = 6.896 milliohms a meter.
        assert_eq!(microohms_per_meter(Gauge::Area(250)), 6896);
    }

    #[test]
    fn no_current_loses_nothing_and_no_number_overflows() {
        assert_eq!(drop(Gauge::Awg(12), Run::grains(5000), Current::grains(0)), Voltage::grains(0));
        let most = drop(Gauge::Awg(40), Run::grains(1_000_000), Current::grains(1_000_000));
        assert!(most.as_grains() > 0);
        assert_eq!(drop(Gauge::Awg(-3), Run::grains(i64::MAX), Current::grains(i64::MAX)).as_grains(), i64::MAX);
    }
}
