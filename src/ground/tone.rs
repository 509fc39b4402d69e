//! What opens a squelch: tones, codes, or nothing.

use super::{Decimal, Refusal};
use std::fmt;

/// An access tone or code as set on a radio. Whether it is a standard one is a question for the tables.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Tone {
    /// No tone: carrier squelch on a radio, or a repeater that sends none.
    Off,
    /// A repeater that opens on a carrier alone.
    Carrier,
    /// Nobody has found out.
    Unknown,
    /// CTCSS, in tenths of a hertz.
    Ctcss(u16),
    /// Digital-coded squelch: the octal code's digits as a plain number (23 for 023), and whether it is inverted.
    Dcs {
        /// The octal code's digits read as a plain number.
        code: u16,
        /// Whether the bits are sent inverted.
        is_inverted: bool,
    },
    /// Network access code of TIA-102, 12 bits, written in hexadecimal.
    Nac(u16),
    /// Colour code of ETSI TS 102 361, 0 to 15.
    ColourCode(u8),
    /// Radio access number of NXDN, 0 to 63.
    Ran(u8),
    /// Channel access number of M17, 0 to 15.
    Can(u8),
    /// An audible burst, in hertz: `1750 Hz burst`.
    Burst(u16),
}

impl Tone {
    /// Reads `"103.5 Hz"`, `"DCS 023 normal"`, `"NAC 293"`, `"CC 1"`, `"RAN 5"`, `"CAN 3"`, `"1750 Hz burst"`, `"carrier"`, `"off"`, `"unknown"`.
    ///
    /// # Errors
    /// When it is none of these or its number is outside the code's range.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        match trimmed {
            "off" => return Ok(Self::Off),
            "carrier" => return Ok(Self::Carrier),
            "unknown" => return Ok(Self::Unknown),
            _ => {}
        }
        parse_burst(trimmed)
            .or_else(|| parse_ctcss(trimmed))
            .or_else(|| parse_dcs(trimmed))
            .or_else(|| parse_code(trimmed))
            .ok_or_else(|| refuse(trimmed))
    }

    /// Why a number without a unit is refused: 1 to 50 looks like a place in somebody's list.
    #[must_use]
    pub fn refuse_number(written: &str) -> Refusal {
        let is_list_number = written.parse::<u32>().is_ok_and(|n| (1..=50).contains(&n));
        let what = if is_list_number {
            format!("{written} is a place in a list, and lists differ between makers")
        } else {
            format!("{written} has no unit")
        };
        let refusal = Refusal::new(what).bare_number();
        if is_list_number {
            refusal.help("write the tone itself, as \"103.5 Hz\"")
        } else {
            refusal.write(format!("{written} Hz"))
        }
    }

    /// Whether a radio is set to something: not off, carrier or unknown.
    #[must_use]
    pub const fn is_set(self) -> bool {
        !matches!(self, Self::Off | Self::Carrier | Self::Unknown)
    }

    /// What of a DCS code does not fit a narrow column: whether its bits are sent as they are.
    #[must_use]
    pub const fn sense(self) -> Option<&'static str> {
        match self {
            Self::Dcs { is_inverted: true, .. } => Some("inverted"),
            Self::Dcs { is_inverted: false, .. } => Some("normal"),
            _ => None,
        }
    }

    /// What stands in a narrow tone column: as [`Tone::keyed`], a DCS code without its sense, which then stands beside.
    #[must_use]
    pub fn keyed_short(self) -> String {
        match self {
            Self::Dcs { code, .. } => format!("DCS {code:03}"),
            other => other.keyed(),
        }
    }

    /// What stands in a tone column where nothing stands beside it: as [`Tone::keyed`], a DCS code with the letter of its sense,
    /// `D023N` or `D023I`.
    #[must_use]
    pub fn keyed_whole(self) -> String {
        match self {
            Self::Dcs { code, is_inverted } => format!("D{code:03}{}", if is_inverted { 'I' } else { 'N' }),
            other => other.keyed(),
        }
    }

    /// What stands in a tone column: the value as keyed, without unit or kind, or a word.
    #[must_use]
    pub fn keyed(self) -> String {
        match self {
            Self::Ctcss(tenths) => Decimal::print(i64::from(tenths), 10, 1),
            other => other.to_string(),
        }
    }
}

fn refuse(text: &str) -> Refusal {
    let help = "write it as \"103.5 Hz\", \"DCS 023 normal\", \"NAC 293\", \"CC 1\", \"1750 Hz burst\", \"carrier\" or \"off\"";
    Refusal::new(format!("\"{text}\" is not a tone or an access code")).help(help)
}

fn parse_ctcss(text: &str) -> Option<Tone> {
    let tenths = Decimal::parse(text.strip_suffix("Hz")?.trim())?.to_grains(10)?;
    u16::try_from(tenths).ok().filter(|n| (500..=3000).contains(n)).map(Tone::Ctcss)
}

fn parse_burst(text: &str) -> Option<Tone> {
    let number = text.strip_suffix("burst")?.trim().strip_suffix("Hz")?.trim();
    number.parse().ok().filter(|n| (1000..=3000).contains(n)).map(Tone::Burst)
}

fn parse_dcs(text: &str) -> Option<Tone> {
    // `D023N` and `D023I` are how some radios show what the trade says as "DCS 023 normal" and "DCS 023 inverted".
    let (code, is_inverted) = match text.strip_prefix("DCS ") {
        Some(rest) => match rest.trim().split_once(' ') {
            Some((code, "normal")) => (code, false),
            Some((code, "inverted")) => (code, true),
            _ => return None,
        },
        None => {
            let rest = text.strip_prefix('D')?;
            match rest.strip_suffix('N') {
                Some(code) => (code, false),
                None => (rest.strip_suffix('I')?, true),
            }
        }
    };
    let is_octal = code.len() == 3 && code.bytes().all(|b| (b'0'..=b'7').contains(&b));
    if !is_octal {
        return None;
    }
    Some(Tone::Dcs { code: code.parse().ok()?, is_inverted })
}

fn parse_code(text: &str) -> Option<Tone> {
    // `$293` is how some radios and lists show a network access code.
    let (kind, number) = match text.strip_prefix('$') {
        Some(number) => ("NAC", number),
        None => text.split_once(' ')?,
    };
    let number = number.trim();
    let number = if kind == "NAC" { number.strip_prefix('$').unwrap_or(number) } else { number };
    let small = |most: u8| number.parse::<u8>().ok().filter(|n| *n <= most);
    match kind {
        "NAC" if number.len() == 3 => u16::from_str_radix(number, 16).ok().filter(|n| *n <= 0xfff).map(Tone::Nac),
        "CC" => small(15).map(Tone::ColourCode),
        "RAN" => small(63).map(Tone::Ran),
        "CAN" => small(15).map(Tone::Can),
        _ => None,
    }
}

impl fmt::Display for Tone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Off => f.write_str("off"),
            Self::Carrier => f.write_str("carrier"),
            Self::Unknown => f.write_str("unknown"),
            Self::Ctcss(tenths) => write!(f, "{} Hz", Decimal::print(i64::from(*tenths), 10, 1)),
            Self::Dcs { code, .. } => write!(f, "DCS {code:03} {}", self.sense().unwrap_or_default()),
            Self::Nac(code) => write!(f, "NAC {code:03X}"),
            Self::ColourCode(code) => write!(f, "CC {code}"),
            Self::Ran(code) => write!(f, "RAN {code}"),
            Self::Can(code) => write!(f, "CAN {code}"),
            Self::Burst(hertz) => write!(f, "{hertz} Hz burst"),
        }
    }
}
