//! The modules of QR symbols, and those of an order, each made once.

use super::symbol_mask::{Code, masked};
use crate::compose::block::{Block, Section};
use crate::ground::Shelf;
use qrcode::bits::{Bits, encode_auto};
use qrcode::{EcLevel, Version};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// The number of UTF-8 among the character sets that a symbol may declare (AIM ECI 000026).
const UTF_8: u32 = 26;
/// Bytes that versions 1 to 40 hold at level M (ISO/IEC 18004, table 7). Version v has 17 + 4 v modules a side.
pub(super) const CAPACITY: [usize; 40] = [
    14, 26, 42, 62, 84, 106, 122, 152, 180, 213, 251, 287, 331, 362, 412, 450, 504, 560, 624, 666, 711, 779, 857, 911,
    997, 1059, 1125, 1190, 1264, 1370, 1452, 1538, 1628, 1722, 1809, 1911, 1989, 2099, 2213, 2331,
];

/// The symbols of an order: passages that differ have many in common, and to make one takes longer than to set a panel.
#[derive(Default)]
pub(super) struct Symbols {
    /// How often each payload is wanted.
    times: Mutex<BTreeMap<String, usize>>,
    made: Shelf<String, Option<Arc<Code>>>,
}

impl Symbols {
    pub fn count(&self, sections: &[Section]) {
        let symbols = sections.iter().flat_map(|section| &section.blocks).filter_map(|block| match block {
            Block::Symbol(symbol) => Some(symbol.payload.words()),
            _ => None,
        });
        let mut times = self.times.lock().unwrap_or_else(PoisonError::into_inner);
        symbols.for_each(|payload| *times.entry(payload).or_default() += 1);
    }

    /// Lets go of payloads that were wanted once.
    pub fn forget_own(&self) {
        self.times.lock().unwrap_or_else(PoisonError::into_inner).retain(|_, times| *times > 1);
    }

    /// The symbol of a payload; none where it is longer than any holds.
    pub fn of(&self, payload: &str) -> Option<Arc<Code>> {
        let make = || encoded(payload).map(Arc::new);
        let times = self.times.lock().unwrap_or_else(PoisonError::into_inner).get(payload).copied();
        if times.is_some_and(|times| times > 1) { self.made.get(payload.to_owned(), make) } else { make() }
    }
}

/// The smaller of two encodings: in mixed modes, where the encoder's choice of segments is not always the shortest, and in bytes alone.
/// Letters beyond ASCII are declared as UTF-8: without that, readers guess, and some guess wrong.
fn encoded(payload: &str) -> Option<Code> {
    let mixed = encode_auto(payload.as_bytes(), EcLevel::M).ok().filter(|_| payload.is_ascii());
    let plain = CAPACITY.iter().position(|bytes| *bytes >= payload.len()).and_then(|index| plain(payload, index));
    let shortest = [mixed, plain].into_iter().flatten().min_by_key(|bits| bits.version().width());
    masked(shortest?)
}

/// A payload in bytes, in the least version from one on: the declaration may take it into the next.
fn plain(payload: &str, from: usize) -> Option<Bits> {
    let in_version = |index: usize| {
        let mut bits = Bits::new(Version::Normal(i16::try_from(index + 1).ok()?));
        if !payload.is_ascii() {
            bits.push_eci_designator(UTF_8).ok()?;
        }
        bits.push_byte_data(payload.as_bytes()).ok()?;
        bits.push_terminator(EcLevel::M).ok()?;
        Some(bits)
    };
    (from..CAPACITY.len()).find_map(in_version)
}

#[cfg(test)]
mod tests {
    use super::CAPACITY;
    use qrcode::{EcLevel, QrCode};

    #[test]
    fn capacities_are_those_of_the_encoder() {
        for (n, bytes) in CAPACITY.iter().enumerate() {
            let side = |length| QrCode::with_error_correction_level("a".repeat(length), EcLevel::M).map(|c| c.width());
            assert_eq!(side(*bytes).unwrap(), 21 + 4 * n, "version {}", n + 1);
            assert!(side(*bytes + 1).map_or(n == 39, |wider| wider == 25 + 4 * n), "version {}", n + 1);
        }
    }
}
