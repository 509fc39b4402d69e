//! Is a folder still what its manifest says?

use super::{Editions, Entry, IssuedPaper, MANIFEST, Manifest};
use crate::compose::CopyNumbers;
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

impl Difference {
    /// The file's name.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Changed(name) | Self::Missing(name) | Self::Extra(name) => name,
        }
    }
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

/// What a paper of a folder is beside the editions that were issued since.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PaperStanding {
    /// The last edition issued has it as it is.
    Valid,
    /// The last edition issued has another: its number, and its code.
    Superseded(u32, String),
    /// The last edition issued has none of this name: its number.
    Withdrawn(u32),
    /// It is a set, and this file of it is not valid.
    Holds(String),
}

/// The name of a document's file without its ending.
fn stem(entry: &Entry) -> Option<&str> {
    entry.name.strip_suffix(".pdf")
}

/// What becomes of each paper of a folder, by the last edition that was issued; nothing where none was. Papers that tell of an edition
/// are none.
#[must_use]
pub fn standing(
    manifest: &Manifest,
    editions: &Editions,
    is_paper: impl Fn(&str) -> bool,
) -> Vec<(String, PaperStanding)> {
    let Some(last) = editions.issued.last() else { return Vec::new() };
    let number = last.number.value.get();
    let papers = IssuedPaper::all(manifest.files.iter().filter(|entry| is_paper(&entry.kind)), &CopyNumbers::new());
    let stands = |paper: IssuedPaper| {
        let now = last.papers.iter().find(|now| now.file == paper.file);
        let standing = match now {
            None => PaperStanding::Withdrawn(number),
            Some(now) if now.says_what(&paper) => PaperStanding::Valid,
            Some(now) => PaperStanding::Superseded(number, now.code.clone()),
        };
        (paper.file, standing)
    };
    let mut papers: Vec<(String, PaperStanding)> = papers.into_iter().map(stands).collect();
    let is_old = |part: &&String| {
        let file = part.strip_suffix(".pdf").unwrap_or(part);
        papers.iter().any(|(known, standing)| known == file && *standing != PaperStanding::Valid)
    };
    let set =
        |entry: &Entry| Some((stem(entry)?.to_owned(), PaperStanding::Holds(entry.parts.iter().find(is_old)?.clone())));
    let sets: Vec<(String, PaperStanding)> = manifest.files.iter().filter_map(set).collect();
    papers.extend(sets);
    papers
}
