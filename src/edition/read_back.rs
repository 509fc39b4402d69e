//! Four letters that two stations compare by voice.

use super::canonical::{canonical, hash};
use crate::checks::CheckedPlan;
use crate::compose::block::{Block, Document, ReadBack};
use crate::compose::{Frozen, SharedKey, Task, shared_document};
use crate::ground::{Bug, on_all_threads};
use crate::tables::{Spelling, Tables};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What all copies of a document have in common.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Shared {
    /// Its canonical text.
    pub text: String,
    /// SHA-256 of that text: it is long, and each file of an order asks for it.
    pub hash: ContentHash,
    /// The code of that text.
    pub read_back: ReadBack,
}

/// SHA-256 of a canonical text.
pub type ContentHash = [u8; 32];

/// What copies have in common, by [`Task::shared_key`].
pub type Codes = BTreeMap<SharedKey, Arc<Shared>>;

/// The code of a canonical text: the first 16 bits of its SHA-256, four bits a letter, highest first.
///
/// 16 bits tell an honest mistake from the right content (1 in 65 536 goes unnoticed); they keep no secret and stop no forger.
#[must_use]
pub fn read_back(canonical: &str, spelling: &Spelling) -> ReadBack {
    code(&hash(canonical), spelling)
}

/// The code of a SHA-256.
pub(super) fn code([first, second, ..]: &ContentHash, spelling: &Spelling) -> ReadBack {
    let nibbles = [first >> 4, first & 15, second >> 4, second & 15];
    let letter = |nibble: &u8| spelling.read_back_letters().get(usize::from(*nibble)).copied();
    let letters: Vec<char> = nibbles.iter().filter_map(letter).collect();
    let words: Vec<String> = letters.iter().map(|letter| spelling.word(*letter)).collect();
    ReadBack { letters: letters.into_iter().collect(), words: words.join(" ") }
}

impl Shared {
    /// Of a document that is nobody's own.
    ///
    /// # Errors
    /// When a canonical text cannot be made: a bug.
    pub fn of(document: &Document, rule_set: &str) -> Result<Self, Bug> {
        let text = canonical(document, rule_set)?;
        let hash = hash(&text);
        let read_back = code(&hash, &Tables::built_in().spelling);
        Ok(Self { text, hash, read_back })
    }
}

/// The code of everything that the tasks ask for, each composed once without a holder.
///
/// # Errors
/// When a canonical text cannot be made: a bug.
pub fn codes<'a>(
    checked: &CheckedPlan,
    tasks: impl IntoIterator<Item = &'a Task>,
    frozen: Option<&Frozen<'_>>,
) -> Result<Codes, Bug> {
    let mut firsts: BTreeMap<&SharedKey, &Task> = BTreeMap::new();
    for task in tasks {
        firsts.entry(task.shared_key()).or_insert(task);
    }
    let shared = |(key, task): (&SharedKey, &Task)| {
        let shared = Shared::of(&shared_document(checked, task, frozen), &checked.profile().rule_set)?;
        Ok((key.clone(), Arc::new(shared)))
    };
    on_all_threads(firsts, 1, shared).into_iter().collect()
}

/// Prints the code of what a task's copies share at the foot of its document, and on its front.
pub fn stamp(document: &mut Document, shared: &Shared) {
    let code = Some(shared.read_back.clone());
    for block in document.sections.iter_mut().flat_map(|section| &mut section.blocks) {
        if let Block::Front(front) = block {
            front.code.clone_from(&code);
        }
    }
    document.foot.read_back = code;
}

/// Prints the code of a holder's whole copy beside it, from the hash of that copy's canonical text: what is the holder's alone has no
/// other by which an old sheet is told from a new one.
pub fn stamp_own(document: &mut Document, hash: &ContentHash) {
    let is_personal = document.foot.holder.is_some() && document.foot.read_back.is_some();
    document.foot.own = is_personal.then(|| code(hash, &Tables::built_in().spelling).letters);
}
