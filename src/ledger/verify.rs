//! Is a folder still what its manifest says?

use super::{MANIFEST, Manifest};
use std::collections::BTreeMap;

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
