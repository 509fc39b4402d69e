//! A decimal number as written, without floats.

/// Digits and the number of decimals: `146.940` is 146940 with 3.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Decimal {
    digits: i64,
    decimals: u32,
}

impl Decimal {
    /// Reads an optional sign, digits, and at most nine decimals. `None` for anything else or over 15 digits.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (sign, rest) = match text.strip_prefix('-').or_else(|| text.strip_prefix('\u{2212}')) {
            Some(rest) => (-1, rest),
            None => (1, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, fraction) = rest.split_once('.').unwrap_or((rest, ""));
        let is_digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
        let has_dot_without_digit = rest.ends_with('.');
        if whole.is_empty() || has_dot_without_digit || !is_digits(whole) || !is_digits(fraction) {
            return None;
        }
        if whole.len() + fraction.len() > 15 || fraction.len() > 9 {
            return None;
        }
        let digits: i64 = format!("{whole}{fraction}").parse().ok()?;
        Some(Self { digits: sign * digits, decimals: u32::try_from(fraction.len()).ok()? })
    }

    /// The value in units of which `per_one` make one; `None` when that is not whole or too large.
    #[must_use]
    pub fn to_grains(self, per_one: i64) -> Option<i64> {
        let scale = 10_i64.checked_pow(self.decimals)?;
        let scaled = i128::from(self.digits) * i128::from(per_one);
        if scaled % i128::from(scale) != 0 {
            return None;
        }
        i64::try_from(scaled / i128::from(scale)).ok()
    }

    /// Writes `grains` of which `per_one` (a power of ten) make one, with at least `least` decimals and as many more as the value has.
    #[must_use]
    pub fn print(grains: i64, per_one: u64, least: usize) -> String {
        let sign = if grains < 0 { "-" } else { "" };
        let all = grains.unsigned_abs();
        let width = per_one.ilog10() as usize;
        let mut fraction = if width == 0 { String::new() } else { format!("{:0width$}", all % per_one) };
        while fraction.len() > least && fraction.ends_with('0') {
            fraction.pop();
        }
        while fraction.len() < least {
            fraction.push('0');
        }
        let dot = if fraction.is_empty() { "" } else { "." };
        format!("{sign}{}{dot}{fraction}", all / per_one)
    }
}
