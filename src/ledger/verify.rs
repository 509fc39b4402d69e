//! Is a folder still what its manifest says?

use super::{MANIFEST, Manifest};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::io::{ErrorKind, Read};

/// One way in which a folder is not what its manifest says.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Difference {
    /// The file has other bytes than were written.
    Changed(String),
    /// The file is not there.
    Missing(String),
    /// The file is not in the manifest.
    Extra(String),
}

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

fn hexadecimal(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in bytes {
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// Compares a folder, as hashes by file name, with its manifest. Changed first, then missing, then extra, each by name.
#[must_use]
pub fn verify(manifest: &Manifest, present: &BTreeMap<String, String>) -> Vec<Difference> {
    let mut differences = Vec::new();
    for entry in &manifest.files {
        match present.get(&entry.name) {
            None => differences.push(Difference::Missing(entry.name.clone())),
            Some(hash) if *hash != entry.sha256 => differences.push(Difference::Changed(entry.name.clone())),
            Some(_) => {}
        }
    }
    let is_extra = |name: &&String| name.as_str() != MANIFEST && manifest.entry(name).is_none();
    differences.extend(present.keys().filter(is_extra).cloned().map(Difference::Extra));
    differences.sort();
    differences
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
