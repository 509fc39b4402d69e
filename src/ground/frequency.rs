//! Frequencies and the differences between them.

use super::{Decimal, Refusal};
use std::fmt;
use std::ops::Sub;

/// A frequency in whole hertz, from 1 Hz to 300 GHz. Adding two does not compile.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Frequency(u64);

impl Frequency {
    /// 300 GHz, the upper end of radio in the ITU Radio Regulations (No. 1.5 gives 3 000 GHz; no table of ours goes past 300).
    pub const HIGHEST: u64 = 300_000_000_000;

    /// A number of hertz. `None` for zero and above 300 GHz.
    #[must_use]
    pub const fn hertz(n: u64) -> Option<Self> {
        if n == 0 || n > Self::HIGHEST { None } else { Some(Self(n)) }
    }

    /// The number of hertz.
    #[must_use]
    pub const fn as_hertz(self) -> u64 {
        self.0
    }

    /// Reads `"146.940 MHz"`, `"7245.0 kHz"`, `"1.2 GHz"`, `"28400000 Hz"`.
    ///
    /// # Errors
    /// When there is no unit, it is not whole hertz, or it lies outside 1 Hz to 300 GHz.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let (number, per_one) = split_unit(text).ok_or_else(|| refuse(text))?;
        let hertz = Decimal::parse(number).and_then(|d| d.to_grains(per_one)).ok_or_else(|| refuse(text))?;
        u64::try_from(hertz)
            .ok()
            .and_then(Self::hertz)
            .ok_or_else(|| Refusal::new(format!("\"{text}\" is outside 1 Hz to 300 GHz")))
    }

    /// What a number without a unit was probably meant to be: it stays a refusal, with the text to type.
    #[must_use]
    pub fn refuse_number(written: &str) -> Refusal {
        let refusal =
            Refusal::new(format!("{written} has no unit, so it could be kilohertz or megahertz")).bare_number();
        let units = ["MHz", "kHz"].map(|unit| format!("{written} {unit}"));
        let possible: Vec<&String> = units.iter().filter(|text| Self::parse(text).is_ok()).collect();
        match possible.as_slice() {
            [] => refusal.help("write it as \"146.940 MHz\""),
            [one] => refusal.write(one),
            both => refusal
                .help(format!("write {}", both.iter().map(|t| format!("\"{t}\"")).collect::<Vec<_>>().join(" or "))),
        }
    }

    /// The least decimals of megahertz as printed; kilohertz have fewer, since frequencies are whole hertz.
    pub const MHZ_PLACES: usize = 4;

    /// Megahertz without the unit, at least four decimals and as many more as the value has: as cards print it.
    #[must_use]
    pub fn to_mhz(self) -> String {
        Decimal::print(self.signed(), 1_000_000, Self::MHZ_PLACES)
    }

    /// Kilohertz without the unit, at least one decimal: as HF is dialled.
    #[must_use]
    pub fn to_khz(self) -> String {
        Decimal::print(self.signed(), 1000, 1)
    }

    /// This frequency moved by `shift`. `None` when that leaves 1 Hz to 300 GHz.
    #[must_use]
    pub fn moved(self, shift: Shift) -> Option<Self> {
        self.0.checked_add_signed(shift.as_hertz()).and_then(Self::hertz)
    }

    fn signed(self) -> i64 {
        i64::try_from(self.0).unwrap_or(i64::MAX)
    }
}

impl Sub for Frequency {
    type Output = Shift;
    fn sub(self, other: Self) -> Shift {
        Shift(self.signed() - other.signed())
    }
}

impl fmt::Display for Frequency {
    /// As an operator writes it: `146.940 MHz`, at least three decimals; below 3 MHz in kHz.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 3_000_000 {
            return write!(f, "{} kHz", Decimal::print(self.signed(), 1000, 1));
        }
        write!(f, "{} MHz", Decimal::print(self.signed(), 1_000_000, 3))
    }
}

fn split_unit(text: &str) -> Option<(&str, i64)> {
    let units = [("GHz", 1_000_000_000), ("MHz", 1_000_000), ("kHz", 1000), ("Hz", 1)];
    units.iter().find_map(|(unit, hertz)| Some((text.trim().strip_suffix(unit)?.trim(), *hertz)))
}

fn refuse(text: &str) -> Refusal {
    Refusal::new(format!("\"{text}\" is not a frequency")).help("write it as \"146.940 MHz\" or \"7245.0 kHz\"")
}

/// The difference of two frequencies in whole hertz, with its sign.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Shift(i64);

impl Shift {
    /// A number of hertz.
    #[must_use]
    pub const fn hertz(n: i64) -> Self {
        Self(n)
    }
    /// The number of hertz.
    #[must_use]
    pub const fn as_hertz(self) -> i64 {
        self.0
    }
    /// How far, without the direction.
    #[must_use]
    pub const fn size(self) -> u64 {
        self.0.unsigned_abs()
    }

    /// Reads `"-600 kHz"`, `"+5 MHz"`, `"0 Hz"`. The sign is required, except for zero.
    ///
    /// # Errors
    /// When sign or unit is missing or it is not whole hertz.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not a shift"))
                .help("write it with its sign, as \"-600 kHz\" or \"+5 MHz\"")
        };
        let (number, per_one) = split_unit(text).ok_or_else(refuse)?;
        let hertz = Decimal::parse(number).and_then(|d| d.to_grains(per_one)).ok_or_else(refuse)?;
        let is_signed = number.starts_with(['+', '-', '\u{2212}']);
        if hertz == 0 || is_signed { Ok(Self(hertz)) } else { Err(refuse()) }
    }
}

impl fmt::Display for Shift {
    /// `-600 kHz`, `+5 MHz`: whole megahertz as such, everything else in kilohertz.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 > 0 { "+" } else { "" };
        if self.0 != 0 && self.0 % 100_000 == 0 && self.0.abs() >= 1_000_000 {
            return write!(f, "{sign}{} MHz", Decimal::print(self.0, 1_000_000, 0));
        }
        write!(f, "{sign}{} kHz", Decimal::print(self.0, 1000, 0))
    }
}
