//! Call signs.

use super::Refusal;
use std::fmt;

/// A call sign by its shape alone, with a packet SSID where one is written: `WZ7QRA`, `WZ7QUM-1`.
///
/// Shape: ITU Radio Regulations Article 19 (Nos. 19.68-19.69, from memory): one or two characters, a digit, up to four
/// characters of which the last is a letter; two-character prefixes may begin with a digit. SSID 0 to 15 (AX.25 v2.2, from memory).
/// Stations of other services have three or four letters and three or four digits (Nos. 19.50 ff., from memory): `WQAA000`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct CallSign {
    base: String,
    ssid: Option<u8>,
}

impl CallSign {
    /// Reads a call sign; small letters are taken as capitals.
    ///
    /// # Errors
    /// When it has not the shape of one.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || {
            Refusal::new(format!("\"{text}\" has not the shape of a call sign"))
                .help("write it as the licence has it, in one word: \"WZ7QRA\", \"WZ7QRA-1\"")
        };
        let capitals = text.trim().to_ascii_uppercase();
        let (base, ssid) = match capitals.split_once('-') {
            Some((base, ssid)) => {
                let number = ssid.parse::<u8>().ok().filter(|n| *n <= 15).ok_or_else(|| {
                    Refusal::new(format!("\"{text}\" ends in an SSID that is not 0 to 15"))
                        .help("write an SSID from 0 to 15: \"WZ7QRA-1\"")
                })?;
                (base.to_owned(), Some(number))
            }
            None => (capitals, None),
        };
        if is_amateur(&base) || is_of_other_service(&base) { Ok(Self { base, ssid }) } else { Err(refuse()) }
    }

    /// Whether it has the shape of an amateur station's.
    #[must_use]
    pub fn is_amateur(&self) -> bool {
        is_amateur(&self.base)
    }

    /// The call sign without its SSID.
    #[must_use]
    pub fn base(&self) -> &str {
        &self.base
    }

    /// The SSID, where one is written.
    #[must_use]
    pub const fn ssid(&self) -> Option<u8> {
        self.ssid
    }

    /// What stands before the digit that parts prefix from suffix.
    #[must_use]
    pub fn prefix(&self) -> &str {
        let at = self.base.rfind(|c: char| c.is_ascii_digit()).unwrap_or(0);
        self.base.get(..at).unwrap_or_default()
    }

    /// The digit that parts prefix from suffix.
    #[must_use]
    pub fn digit(&self) -> char {
        self.base.chars().rev().find(char::is_ascii_digit).unwrap_or('0')
    }

    /// The letters after the digit that parts prefix from suffix.
    #[must_use]
    pub fn suffix(&self) -> &str {
        let at = self.base.rfind(|c: char| c.is_ascii_digit()).map_or(0, |at| at + 1);
        self.base.get(at..).unwrap_or_default()
    }
}

fn is_of_other_service(base: &str) -> bool {
    let letters = base.bytes().take_while(u8::is_ascii_alphabetic).count();
    let digits = base.bytes().skip(letters).take_while(u8::is_ascii_digit).count();
    (3..=4).contains(&letters) && (3..=4).contains(&digits) && letters + digits == base.len()
}

fn is_amateur(base: &str) -> bool {
    let bytes = base.as_bytes();
    if !bytes.iter().all(u8::is_ascii_alphanumeric) || !(3..=7).contains(&bytes.len()) {
        return false;
    }
    let splits = |at: usize| {
        let (prefix, rest) = bytes.split_at(at.min(bytes.len()));
        let has_letter = prefix.iter().any(u8::is_ascii_alphabetic);
        let Some((digit, suffix)) = rest.split_first() else { return false };
        let ends_in_letter = suffix.last().is_some_and(u8::is_ascii_alphabetic);
        has_letter && digit.is_ascii_digit() && (1..=4).contains(&suffix.len()) && ends_in_letter
    };
    splits(1) || splits(2)
}

impl fmt::Display for CallSign {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.base)?;
        self.ssid.map_or(Ok(()), |ssid| write!(f, "-{ssid}"))
    }
}
