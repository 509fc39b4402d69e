//! What stands on batteries, supplies and cables: charge, current, voltage, wire, lengths of cable, shares, degrees, years.
//!
//! Whole thousandths throughout, so that what is compared is compared as written. Each has its range once, in `parse`.

use super::{Decimal, Refusal};
use std::fmt;

/// The grains that a text stands for, where one of these units ends it and the number is in the range.
fn grains(text: &str, units: &[(&str, i64)], range: std::ops::RangeInclusive<i64>) -> Option<i64> {
    let (number, per_one) = units.iter().find_map(|(unit, n)| Some((text.trim().strip_suffix(unit)?.trim(), *n)))?;
    Decimal::parse(number).and_then(|d| d.to_grains(per_one)).filter(|n| range.contains(n))
}

/// A number of grains with its unit, as a type of its own.
macro_rules! quantity {
    ($(#[doc = $doc:literal])* $name:ident, $what:literal, $example:literal, $units:expr, $range:expr, $per_one:literal, $unit:literal) => {
        $(#[doc = $doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub struct $name(i64);

        impl $name {
            /// So many of the smallest grains; outside the range of what is written where it is reckoned.
            #[must_use]
            pub const fn grains(n: i64) -> Self {
                Self(n)
            }

            /// The number of the smallest grains.
            #[must_use]
            pub const fn as_grains(self) -> i64 {
                self.0
            }

            /// Reads it with its unit.
            ///
            /// # Errors
            /// When the unit is missing, it is finer than a grain, or it is out of the range that the message says.
            pub fn parse(text: &str) -> Result<Self, Refusal> {
                grains(text, $units, $range).map(Self).ok_or_else(|| {
                    Refusal::new(format!("\"{text}\" is not {}", $what)).help(concat!("write it as \"", $example, "\""))
                })
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} {}", Decimal::print(self.0, $per_one, 0), $unit)
            }
        }
    };
}

quantity! {
    /// Charge in milliampere-hours: what a battery holds.
    Charge, "a charge above 0 and up to 10000 Ah", "9 Ah", &[("mAh", 1), ("Ah", 1000)], 1..=10_000_000, 1000, "Ah"
}
quantity! {
    /// Current in milliamperes.
    Current, "a current from 0 to 1000 A", "1.6 A", &[("mA", 1), ("A", 1000)], 0..=1_000_000, 1000, "A"
}
quantity! {
    /// Voltage in millivolts.
    Voltage, "a voltage above 0 and up to 1000 V", "13.8 V", &[("mV", 1), ("V", 1000)], 1..=1_000_000, 1000, "V"
}
quantity! {
    /// A part of a whole in thousandths.
    Share, "a share from 0 to 100 %", "25 %", &[("%", 10)], 0..=1000, 10, "%"
}
quantity! {
    /// Degrees Celsius, in tenths.
    Celsius, "a temperature from -60 to 80 C", "-5 C", &[("°C", 10), ("C", 10)], -600..=800, 10, "°C"
}
quantity! {
    /// The way of a cable from end to end, in millimeters.
    Run, "a length of cable above 0 and up to 1000 m", "3 m", &[("mm", 1), ("cm", 10), ("m", 1000)], 1..=1_000_000, 1000, "m"
}

/// How thick a wire is: of the American gauge, or by its area.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Gauge {
    /// American wire gauge; 0, -1, -2, -3 for 1/0 to 4/0.
    Awg(i8),
    /// Hundredths of a square millimeter.
    Area(u32),
}

impl Gauge {
    /// Reads `"12 AWG"`, `"2/0 AWG"`, `"2.5 mm2"`.
    ///
    /// # Errors
    /// When it is none of 4/0 to 40 AWG, and no area from 0.05 to 500 square millimeters.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        let gauge = trimmed.strip_suffix("AWG").map(str::trim).and_then(|number| match number.split_once('/') {
            Some((zeros, "0")) => zeros.parse::<i8>().ok().filter(|n| (1..=4).contains(n)).map(|n| 1 - n),
            Some(_) => None,
            None => number.parse::<i8>().ok().filter(|n| (1..=40).contains(n)),
        });
        let area = || grains(trimmed, &[("mm2", 100), ("mm²", 100)], 5..=50_000).and_then(|n| u32::try_from(n).ok());
        gauge.map(Self::Awg).or_else(|| area().map(Self::Area)).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a wire from 4/0 to 40 AWG, nor from 0.05 to 500 mm2"))
                .help("write it as \"12 AWG\" or \"2.5 mm2\"")
        })
    }
}

impl fmt::Display for Gauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(n) if *n < 1 => write!(f, "{}/0 AWG", 1 - n),
            Self::Awg(n) => write!(f, "{n} AWG"),
            Self::Area(n) => write!(f, "{} mm²", Decimal::print(i64::from(*n), 100, 0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Celsius, Charge, Current, Gauge, Run, Share, Voltage};

    #[test]
    fn what_is_written_comes_back() {
        assert_eq!(Charge::parse("9 Ah").unwrap().as_grains(), 9000);
        assert_eq!(Charge::parse("7200 mAh").unwrap().to_string(), "7.2 Ah");
        assert_eq!(Current::parse("0.06 A").unwrap(), Current::parse("60 mA").unwrap());
        assert_eq!(Voltage::parse("13.8 V").unwrap().to_string(), "13.8 V");
        assert_eq!(Share::parse("12.5 %").unwrap().as_grains(), 125);
        assert_eq!(Celsius::parse("-20 C").unwrap().to_string(), "-20 °C");
        assert_eq!(Run::parse("1.5 m").unwrap().as_grains(), 1500);
        for text in ["12 AWG", "1/0 AWG", "4/0 AWG", "2.5 mm²"] {
            assert_eq!(Gauge::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(Gauge::parse("4/0 AWG").unwrap(), Gauge::Awg(-3));
    }

    #[test]
    fn what_no_station_has_is_refused_with_its_limit() {
        for refused in [Current::parse("10 kA").err(), Current::parse("10000 A").err(), Current::parse("-1 A").err()] {
            assert!(format!("{:?}", refused.unwrap()).contains("from 0 to 1000 A"));
        }
        assert!(Run::parse("0 m").is_err() && Run::parse("-3 m").is_err() && Run::parse("3").is_err());
        assert!(Charge::parse("0 Ah").is_err() && Voltage::parse("0 V").is_err() && Share::parse("101 %").is_err());
        assert!(Gauge::parse("0 AWG").is_err() && Gauge::parse("5/0 AWG").is_err() && Gauge::parse("0 mm2").is_err());
        assert!(Celsius::parse("300 C").is_err());
    }
}
