//! The bits that a digital-coded squelch sends: which codes a decoder cannot tell apart.
//!
//! A 23-bit Golay word of 11 parity bits, the bits 100 and the 9 bits of the octal code, sent over and over (TIA-603, from memory;
//! the 52 pairs of tests/refs/dcs-inverse.toml hold it). Since it has no start, all its rotations are one signal; inverted, its
//! bits are flipped.

use crate::ground::Tone;

/// x^11 + x^10 + x^6 + x^5 + x^4 + x^2 + 1.
const GENERATOR: u32 = 0xc75;
/// All 23 bits.
const WORD: u32 = 0x7f_ffff;

/// What a code sends, the same number for codes that sound the same; none for what is no such code.
#[must_use]
pub fn dcs_bits(tone: Tone) -> Option<u32> {
    let Tone::Dcs { code, is_inverted } = tone else { return None };
    let code = u32::from(code);
    let data = 0o4000 | (code / 100 * 64 + code / 10 % 10 * 8 + code % 10);
    let word = (data << 11) | remainder(data << 11);
    let sent = if is_inverted { word ^ WORD } else { word };
    (0..23).map(|turn| ((sent << turn) | (sent >> (23 - turn))) & WORD).min()
}

fn remainder(mut value: u32) -> u32 {
    for bit in (11..23).rev() {
        if value >> bit & 1 == 1 {
            value ^= GENERATOR << (bit - 11);
        }
    }
    value
}
