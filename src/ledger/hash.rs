//! SHA-256 of files.

use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::io::{ErrorKind, Read};

/// SHA-256 (FIPS 180-4) in small hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// SHA-256 of all that can be read.
///
/// # Errors
/// When the machine refuses to read on.
pub fn sha256_of(mut bytes: impl Read) -> std::io::Result<String> {
    let (mut hash, mut chunk) = (Sha256::new(), vec![0; 1 << 16]);
    loop {
        match bytes.read(&mut chunk) {
            Ok(0) => return Ok(hexadecimal(&hash.finalize())),
            Ok(count) => hash.update(chunk.get(..count).unwrap_or_default()),
            Err(fault) if fault.kind() == ErrorKind::Interrupted => {}
            Err(fault) => return Err(fault),
        }
    }
}

/// A hash in small hexadecimal digits.
pub fn hexadecimal(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in bytes {
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::sha256;

    /// FIPS 180-2 appendix B.1: the one-block message "abc" (from memory).
    #[test]
    fn the_published_hash_of_abc() {
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
