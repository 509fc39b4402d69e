//! Emission designators: ITU Radio Regulations Appendix 1, 47 CFR 2.201 and 2.202.

use crate::ground::{Refusal, Width};
use crate::tables::EmissionType;
use std::fmt;

/// A designator: necessary bandwidth, three symbols, and up to two more.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Emission {
    /// Necessary bandwidth in millihertz: the notation goes down to 0.001 Hz.
    millihertz: u64,
    symbols: String,
}

/// Modulation of the main carrier, nature of the signal, type of information (2.201(c)-(e); from memory).
const FIRST: &str = "NAHRJBCFGDPKLMQVWX";
const SECOND: &str = "0123789X";
const THIRD: &str = "NABCDEFWX";
/// Details of the signal, and of multiplexing (2.201(g); from memory).
const FOURTH: &str = "ABCDEFGHJKLMNWX";
const FIFTH: &str = "NCFTWX";

impl Emission {
    /// Reads a designator such as `16K0F3E`.
    ///
    /// # Errors
    /// When the bandwidth is not in the notation of 2.202(b) or a symbol is none.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" is not an emission designator"))
                .help("write it as \"16K0F3E\": width, then three symbols")
        };
        let (width, symbols) = text.trim().split_at_checked(4).ok_or_else(refuse)?;
        let millihertz = parse_notation(width).ok_or_else(refuse)?;
        let sets = [FIRST, SECOND, THIRD, FOURTH, FIFTH];
        let count = symbols.chars().count();
        let are_known = symbols.chars().zip(sets).all(|(symbol, set)| set.contains(symbol));
        if !(3..=5).contains(&count) || !are_known {
            return Err(refuse());
        }
        Ok(Self { millihertz, symbols: symbols.to_owned() })
    }

    /// The necessary bandwidth, rounded up to whole hertz.
    #[must_use]
    pub fn width(&self) -> Width {
        Width::hertz(self.millihertz.div_ceil(1000))
    }

    /// The same emission with another width.
    #[must_use]
    pub fn with_width(&self, width: Width) -> Self {
        Self { millihertz: width.as_hertz() * 1000, symbols: self.symbols.clone() }
    }

    /// The symbols after the width.
    #[must_use]
    pub fn symbols(&self) -> &str {
        &self.symbols
    }

    /// The type that 47 CFR 97.3(c) gives these symbols (read): by the information first, since a rule speaks of phone or data.
    #[must_use]
    pub fn emission_type(&self) -> EmissionType {
        let mut symbols = self.symbols.chars();
        let (first, second, third) = (symbols.next(), symbols.next(), symbols.next());
        match (first, second, third) {
            (Some('P' | 'K' | 'L' | 'M' | 'Q' | 'V'), _, _) => EmissionType::Pulse,
            (_, Some('1'), Some('A' | 'B')) if first == Some('A') => EmissionType::Cw,
            (_, Some('2'), Some('A')) => EmissionType::Mcw,
            (_, _, Some('E')) => EmissionType::Phone,
            // Digital voice with data beside it is the voice that it is keyed for; common practice, no source.
            (Some('F' | 'G' | 'D'), Some('1' | '7' | 'X'), Some('W')) => EmissionType::Phone,
            (_, _, Some('C' | 'F')) => EmissionType::Image,
            (_, _, Some('B')) => EmissionType::Rtty,
            (_, Some('1'), Some('A')) => EmissionType::Cw,
            _ => EmissionType::Data,
        }
    }

    /// Whether it is single sideband with a suppressed or reduced carrier and one analog channel: J3E or R3E.
    #[must_use]
    pub fn is_ssb_phone(&self) -> bool {
        self.symbols.starts_with("J3E") || self.symbols.starts_with("R3E")
    }

    /// Whether the carrier's angle is modulated.
    #[must_use]
    pub fn is_angle_modulated(&self) -> bool {
        self.symbols.starts_with(['F', 'G'])
    }
}

impl fmt::Display for Emission {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", notation(self.millihertz), self.symbols)
    }
}

/// Four characters: three figures and a letter in the place of the decimal point. None for anything else.
fn parse_notation(text: &str) -> Option<u64> {
    let (at, letter) = text.char_indices().find(|(_, c)| c.is_ascii_alphabetic())?;
    let per_unit: u64 = match letter {
        'H' => 1000,
        'K' => 1_000_000,
        'M' => 1_000_000_000,
        'G' => 1_000_000_000_000,
        _ => return None,
    };
    let (whole, fraction) = (text.get(..at)?, text.get(at + 1..)?);
    let is_figures = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    if text.len() != 4 || !is_figures(whole) || !is_figures(fraction) {
        return None;
    }
    // "The first character shall be neither zero nor K, M or G" (2.202(b)(2)): below 1 Hz it is H.
    if whole.starts_with('0') || (whole.is_empty() && letter != 'H') {
        return None;
    }
    let figures: u64 = format!("{whole}{fraction}").parse().ok()?;
    let scale = 10_u64.checked_pow(u32::try_from(fraction.len()).ok()?)?;
    let millihertz = figures * per_unit / scale;
    (millihertz > 0).then_some(millihertz)
}

/// Writes a bandwidth in millihertz in the notation of 47 CFR 2.202(b): three significant figures, half rounded up
/// (180.5 kHz is printed there as 181K).
#[must_use]
pub fn notation(millihertz: u64) -> String {
    let units = [('H', 1_u64), ('K', 1000), ('M', 1_000_000), ('G', 1_000_000_000)];
    for (letter, hertz) in units {
        let per_unit = hertz * 1000;
        // 999.5 of a unit rounds up to 1.00 of the next.
        if millihertz * 2 >= 1999 * per_unit && letter != 'G' {
            continue;
        }
        if millihertz < 1000 {
            return format!("H{millihertz:03}");
        }
        let decimals = if millihertz * 1000 < 9995 * per_unit {
            2
        } else if millihertz * 100 < 9995 * per_unit {
            1
        } else {
            0
        };
        let scale = 10_u64.pow(decimals);
        let figures = (millihertz * scale * 2 + per_unit) / (per_unit * 2);
        let (whole, fraction) = (figures / scale, figures % scale);
        return match decimals {
            0 => format!("{whole}{letter}"),
            _ => format!("{whole}{letter}{fraction:0width$}", width = decimals as usize),
        };
    }
    String::new()
}

/// Carson's rule as 2.202(g) writes it: Bn = 2M + 2DK, with K = 1.
///
/// M: highest modulation frequency, D: peak deviation, both in hertz. Typical for FM telephony (ITU Radio Regulations,
/// Appendix 1).
#[must_use]
pub const fn carson(m: u64, d: u64) -> Width {
    Width::hertz(2 * m + 2 * d)
}

#[cfg(test)]
mod tests {
    use super::{Emission, carson, notation};
    use crate::tables::EmissionType;

    #[test]
    fn the_printed_examples_of_2_202_b() {
        // 47 CFR 2.202(b)(3), read: bandwidth in millihertz, code.
        let examples = [
            (2, "H002"),
            (100, "H100"),
            (25_300, "25H3"),
            (400_000, "400H"),
            (2_400_000, "2K40"),
            (6_000_000, "6K00"),
            (12_500_000, "12K5"),
            (180_400_000, "180K"),
            (180_500_000, "181K"),
            (180_700_000, "181K"),
            (1_250_000_000, "1M25"),
            (2_000_000_000, "2M00"),
            (10_000_000_000, "10M0"),
            (202_000_000_000, "202M"),
            (5_650_000_000_000, "5G65"),
        ];
        for (millihertz, code) in examples {
            assert_eq!(notation(millihertz), code);
        }
    }

    #[test]
    fn designators_come_back_and_nonsense_does_not() {
        for text in
            ["16K0F3E", "11K2F3E", "2K80J3E", "150HA1A", "16K0F2D", "7K60FXE", "6K00A3EJN", "H100N0N", "25H3A1B"]
        {
            assert_eq!(Emission::parse(text).unwrap().to_string(), text);
        }
        for text in [
            "",
            "16KF3E",
            "K160F3E",
            "016KF3E",
            "16K0",
            "16K0F3",
            "16K0Z3E",
            "16K0F5E",
            "16K0F3EJNX",
            "16k0F3E",
            "16K0F3Ø",
        ] {
            assert!(Emission::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn symbols_name_the_type() {
        let of = |text: &str| Emission::parse(text).unwrap().emission_type();
        assert_eq!(of("16K0F3E"), EmissionType::Phone);
        assert_eq!(of("150HA1A"), EmissionType::Cw);
        assert_eq!(of("16K0F2D"), EmissionType::Data);
        assert_eq!(of("60H0J2B"), EmissionType::Rtty);
        assert_eq!(of("7K60FXE"), EmissionType::Phone);
        assert_eq!(of("6K00F7W"), EmissionType::Phone);
        assert_eq!(of("9K36F7D"), EmissionType::Data);
        assert_eq!(of("2K10A2A"), EmissionType::Mcw);
        assert_eq!(of("3M00P0N"), EmissionType::Pulse);
        assert_eq!(of("6M00C3F"), EmissionType::Image);
    }

    #[test]
    fn carson_s_rule_gives_the_published_widths() {
        // 2.202(g) III-A 2 (second-hand); Atlantic City 1947, Appendix 5 (read): D = 15000, M = 3000 -> 36 000 c/s.
        assert_eq!(carson(3000, 5000).as_hertz(), 16_000);
        assert_eq!(carson(3000, 15_000).as_hertz(), 36_000);
        assert_eq!(carson(15_000, 75_000).as_hertz(), 180_000);
        assert_eq!(carson(3000, 2500).as_hertz(), 11_000);
    }
}
