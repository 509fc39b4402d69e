//! A finished kit before it is written.

use super::sha256;
use crate::ground::Audience;
use crate::sheet::{Placement, Size};
use std::collections::BTreeMap;

/// All files of one compile, or what was kept of each.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Kit<F = KitFile> {
    /// The plan's short name.
    pub plan: String,
    /// The plan's title.
    pub title: String,
    /// Whose plan it is.
    pub team: String,
    /// The edition's number.
    pub edition: u32,
    /// Whether it is a draft: not issued, of a plan whose editions are.
    pub is_draft: bool,
    /// What the plan was checked against, with its date.
    pub rule_set: String,
    /// The files.
    pub files: Vec<F>,
}

impl<F> Kit<F> {
    /// The same plan and edition with other files.
    #[must_use]
    pub fn with<G>(&self, files: Vec<G>) -> Kit<G> {
        let Self { plan, title, team, edition, is_draft, rule_set, files: _ } = self;
        let [plan, title, team, rule_set] = [plan, title, team, rule_set].map(String::clone);
        Kit { plan, title, team, edition: *edition, is_draft: *is_draft, rule_set, files }
    }
}

/// One finished file. All of it but `bytes` is printed in the manifest, so it comes from a view: nothing private.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KitFile {
    /// Plain file name with its ending.
    pub name: String,
    /// What the file holds; nothing where it was written while it was made.
    pub bytes: Vec<u8>,
    /// What is known of its bytes where none are here.
    pub written: Option<WrittenBytes>,
    /// The document kind.
    pub kind: String,
    /// Who may read it.
    pub audience: Audience,
    /// The id of the member or place it is for; none for a shared document.
    pub holder: Option<String>,
    /// The files whose papers stand in it, where it is a set.
    pub parts: Vec<String>,
    /// Sizes of its pages: their number is in the manifest.
    pub pages: Vec<Size>,
    /// Where its panels stand and how full they are; not in the manifest.
    pub placements: Vec<Placement>,
    /// The read-back code printed on it; none where the document bears none.
    pub code: Option<String>,
    /// SHA-256 of the canonical text that all its copies share; the code is its beginning.
    pub content: Option<String>,
    /// SHA-256 of each holder's own canonical text, by the holder's id: what is theirs alone included.
    pub holder_content: BTreeMap<String, String>,
    /// The code printed on each holder's own copy after "own", by the holder's id: the beginning of that hash.
    pub holder_code: BTreeMap<String, String>,
}

/// Bytes that went to their file as they came.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenBytes {
    /// SHA-256 in small hexadecimal digits.
    pub sha256: String,
    /// How many.
    pub bytes: u64,
}

impl WrittenBytes {
    /// Of bytes that are at hand.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self { sha256: sha256(bytes), bytes: u64::try_from(bytes.len()).unwrap_or(u64::MAX) }
    }
}
