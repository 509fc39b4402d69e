//! A number by which a line that was copied by hand shows that something in it is wrong.

/// How many values there are.
pub const CHECK_VALUES: u8 = 254;

/// The modulus of the sum: a prime above the 95 printable characters, so that no two of them are alike in it.
const MODULUS: u16 = 127;

/// The weight of a place over that of the next: a primitive root of the modulus, so that no two of 126 places in a row weigh the same.
const BASE: u16 = 3;

/// The check of a line of printable 7-bit characters, from 0 to 253: its characters summed up, each weighed by its place, modulo 127,
/// and beside that whether their number is odd.
///
/// Of lines up to 126 characters it is another wherever one character is changed (the difference of two characters, 1 to 94, times a
/// weight, neither a multiple of the prime), wherever two are exchanged at any distance (their difference times the difference of two
/// weights), and wherever one is left out or added (the number is odd where it was even). A line that is wrong in more ways passes once
/// in 254. The method is that of check characters with a prime modulus in ISO/IEC 7064 (from memory); weights and parity are our own.
#[must_use]
pub fn check_value(line: &str) -> u8 {
    let sum = line.bytes().fold(0_u16, |sum, byte| (sum * BASE + u16::from(byte.saturating_sub(0x1f))) % MODULUS);
    let is_odd = line.len() % 2 == 1;
    u8::try_from(sum * 2 + u16::from(is_odd)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{BASE, CHECK_VALUES, MODULUS, check_value};

    #[test]
    fn no_two_places_weigh_the_same_and_no_two_characters_are_alike() {
        let mut weights: Vec<u16> =
            std::iter::successors(Some(1), |weight| Some(weight * BASE % MODULUS)).take(126).collect();
        weights.sort_unstable();
        assert_eq!(weights, (1..127).collect::<Vec<u16>>());
        let mut ones: Vec<u8> = (' '..='~').map(|c| check_value(&c.to_string())).collect();
        ones.dedup();
        assert_eq!(ones.len(), 95);
        assert!(ones.iter().all(|value| *value < CHECK_VALUES));
    }

    /// By hand: "AB" is 34 * 3 + 35 = 137, 10 more than the modulus; two characters are even. "A" is 34, and odd.
    #[test]
    fn values_by_hand() {
        assert_eq!((check_value("AB"), check_value("A"), check_value("")), (20, 69, 0));
    }
}
