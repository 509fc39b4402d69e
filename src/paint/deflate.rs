//! Bytes of streams, deflated here: a layer that picks its back end by features gave other bytes in tests than in releases.

use lopdf::{Dictionary, Stream};
use miniz_oxide::deflate::compress_to_vec_zlib;

/// How hard to deflate: what stands in one file and what many files hold.
const LEVEL: u8 = 3;
const LEVEL_SHARED: u8 = 8;

/// A stream deflated now, so that raw pages never pile up in memory.
pub(super) fn deflated(mut dictionary: Dictionary, bytes: &[u8]) -> Stream {
    dictionary.set("Filter", "FlateDecode");
    Stream::new(dictionary, zlib(bytes)).with_compression(false)
}

/// The same for what many files hold: done once, so done well.
pub(super) fn zlib_shared(bytes: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(bytes, LEVEL_SHARED)
}

/// Deflated bytes with zlib's frame.
pub(super) fn zlib(bytes: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(bytes, LEVEL)
}
