//! Bytes of streams, deflated here: a layer that picks its back end by features gave other bytes in tests than in releases.

use std::cell::RefCell;
use std::collections::BTreeMap;
use zlib_rs::{Deflate, DeflateConfig, DeflateFlush, Status, compress_bound, compress_slice};

/// How hard to deflate: what says the same as its neighbour in other numbers, what stands in one file, and what many files hold.
const LEVEL_QUICK: i32 = 2;
const LEVEL: i32 = 4;
const LEVEL_SHARED: i32 = 6;

/// Deflated bytes with zlib's frame, of what many files hold: done once, so done well.
pub(super) fn zlib_shared(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL_SHARED)
}

/// The same for what is written once and hardly read, and there is most of.
pub(super) fn zlib_quick(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL_QUICK)
}

/// The same for what one file holds.
pub(super) fn zlib(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL)
}

/// The same for many small rows, which are never held together.
pub(super) fn zlib_rows<const N: usize>(rows: impl Iterator<Item = [u8; N]>) -> Vec<u8> {
    STATES.with_borrow_mut(|(states, room)| {
        let state = state(states, LEVEL);
        if room.len() < ROOM {
            room.resize(ROOM, 0);
        }
        let room = room.get_mut(..ROOM).unwrap_or_default();
        let (mut deflated, mut few) = (Vec::new(), Vec::new());
        let mut take = |few: &mut Vec<u8>, flush: DeflateFlush| {
            let mut rest = few.as_slice();
            loop {
                let before = (state.total_in(), state.total_out());
                let done = state.compress(rest, room, flush);
                let [taken, made] = [state.total_in() - before.0, state.total_out() - before.1].map(usize::try_from);
                let (taken, made) = (taken.unwrap_or(rest.len()), made.unwrap_or(0));
                deflated.extend(room.get(..made).unwrap_or_default());
                rest = rest.get(taken..).unwrap_or_default();
                // Where there is room left, nothing waits.
                if !matches!(done, Ok(Status::Ok)) || (rest.is_empty() && made < room.len()) {
                    break;
                }
            }
            few.clear();
        };
        for row in rows {
            few.extend(row);
            if few.len() >= ROOM {
                take(&mut few, DeflateFlush::NoFlush);
            }
        }
        take(&mut few, DeflateFlush::Finish);
        deflated
    })
}

/// So many bytes of rows are deflated at a time.
const ROOM: usize = 1 << 16;

thread_local! {
    /// A thread's own state of each level, and room for what comes out: to make them anew for every stream took more memory than the
    /// streams themselves. What was deflated before changes no byte.
    static STATES: RefCell<(BTreeMap<i32, Deflate>, Vec<u8>)> = const { RefCell::new((BTreeMap::new(), Vec::new())) };
}

/// The windows of zlib's frame: 32 KiB.
const WINDOW_BITS: u8 = 15;

/// The state of a level, as if it were new.
fn state(states: &mut BTreeMap<i32, Deflate>, level: i32) -> &mut Deflate {
    let state = states.entry(level).or_insert_with(|| Deflate::new(level, true, WINDOW_BITS));
    state.reset();
    state
}

fn deflate(bytes: &[u8], level: i32) -> Vec<u8> {
    STATES.with_borrow_mut(|(states, out)| {
        let state = state(states, level);
        // Room for the worst, so that it never fails for want of it.
        let most = compress_bound(bytes.len());
        if out.len() < most {
            out.resize(most, 0);
        }
        let done = state.compress(bytes, out, DeflateFlush::Finish);
        let length = usize::try_from(state.total_out()).unwrap_or(0);
        let deflated = out.get(..length).filter(|_| matches!(done, Ok(Status::StreamEnd)));
        let deflated = deflated.map_or_else(|| at_once(bytes, level), <[u8]>::to_vec);
        if out.len() > MOST_KEPT {
            out.truncate(MOST_KEPT);
            out.shrink_to_fit();
        }
        deflated
    })
}

/// So much room stays for the next stream.
const MOST_KEPT: usize = 1 << 20;

/// The same bytes without a state that is kept.
fn at_once(bytes: &[u8], level: i32) -> Vec<u8> {
    let mut out = vec![0; compress_bound(bytes.len())];
    let length = compress_slice(&mut out, bytes, DeflateConfig { level, ..DeflateConfig::default() }).0.len();
    out.truncate(length);
    out.shrink_to_fit();
    out
}

#[cfg(test)]
mod tests {
    use super::{LEVEL, LEVEL_QUICK, LEVEL_SHARED, ROOM, at_once, deflate, zlib_rows};

    /// Rows that deflate to nothing, and rows that do not deflate at all.
    #[test]
    fn rows_come_back() {
        let mut number: u32 = 1;
        for count in [0, 1, 7, ROOM / 8 - 1, ROOM / 8, ROOM / 8 + 1, ROOM] {
            for is_even in [true, false] {
                let rows: Vec<[u8; 8]> = (0..count)
                    .map(|_| {
                        number = number.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                        if is_even {
                            *b"the same"
                        } else {
                            std::array::from_fn(|n| (number >> (n % 4 * 8)).to_be_bytes()[3])
                        }
                    })
                    .collect();
                let read = miniz_oxide::inflate::decompress_to_vec_zlib(&zlib_rows(rows.iter().copied())).unwrap();
                assert!(read == rows.concat(), "{count} rows");
            }
        }
    }

    /// Whatever a thread has deflated before, and at whatever level.
    #[test]
    fn what_was_deflated_before_changes_no_byte() {
        let mut number: u32 = 1;
        let mut next = || {
            number = number.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            number >> 16
        };
        for round in 0..60_usize {
            let length = [0, 1, 300, 70_000, 5_000][round % 5] + round;
            let letters = [2, 20, 256][round % 3];
            let bytes: Vec<u8> = (0..length).map(|_| u8::try_from(next() % letters).unwrap()).collect();
            for level in [LEVEL, LEVEL_QUICK, LEVEL_SHARED] {
                let deflated = deflate(&bytes, level);
                assert!(deflated == at_once(&bytes, level), "{length} bytes at level {level}");
                let read = miniz_oxide::inflate::decompress_to_vec_zlib(&deflated).unwrap();
                assert!(read == bytes, "{length} bytes at level {level}");
            }
        }
    }
}
