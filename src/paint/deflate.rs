//! Bytes of streams, deflated here: a layer that picks its back end by features gave other bytes in tests than in releases.

use zlib_rs::{DeflateConfig, compress_bound, compress_slice};

/// How hard to deflate: what says the same as its neighbour in other numbers, what stands in one file, and what many files hold.
const LEVEL_QUICK: i32 = 2;
const LEVEL: i32 = 4;
const LEVEL_SHARED: i32 = 6;

/// The same for what many files hold: done once, so done well.
pub(super) fn zlib_shared(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL_SHARED)
}

/// The same for what is written once and hardly read, and there is most of.
pub(super) fn zlib_quick(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL_QUICK)
}

/// Deflated bytes with zlib's frame.
pub(super) fn zlib(bytes: &[u8]) -> Vec<u8> {
    deflate(bytes, LEVEL)
}

/// The output has room for the worst, so it never fails for want of it.
fn deflate(bytes: &[u8], level: i32) -> Vec<u8> {
    let mut out = vec![0; compress_bound(bytes.len())];
    let length = compress_slice(&mut out, bytes, DeflateConfig { level, ..DeflateConfig::default() }).0.len();
    out.truncate(length);
    out
}
