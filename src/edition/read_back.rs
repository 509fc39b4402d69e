//! Four letters that two stations compare by voice.

use super::canonical::{canonical, hash};
use crate::checks::CheckedPlan;
use crate::compose::block::{Document, ReadBack};
use crate::compose::{Frozen, Task, shared_document};
use crate::tables::{Spelling, Tables};
use std::collections::BTreeMap;

/// Read-back codes by [`Task::shared_key`].
pub type Codes = BTreeMap<String, ReadBack>;

/// The code of a canonical text: the first 16 bits of its SHA-256, four bits a letter, highest first.
///
/// 16 bits tell an honest mistake from the right edition (1 in 65 536 goes unnoticed); they keep no secret and stop no forger.
#[must_use]
pub fn read_back(canonical: &str, spelling: &Spelling) -> ReadBack {
    let [first, second, ..] = hash(canonical);
    let nibbles = [first >> 4, first & 15, second >> 4, second & 15];
    let letter = |nibble: &u8| spelling.read_back_letters().get(usize::from(*nibble)).copied();
    let letters: Vec<char> = nibbles.iter().filter_map(letter).collect();
    let words: Vec<String> = letters.iter().map(|letter| spelling.word(*letter)).collect();
    ReadBack { letters: letters.into_iter().collect(), words: words.join(" ") }
}

/// The code of every kind and audience that the tasks ask for, each composed once without a holder.
#[must_use]
pub fn codes(checked: &CheckedPlan, tasks: &[Task], frozen: Option<&Frozen<'_>>) -> Codes {
    let mut codes = Codes::new();
    for task in tasks {
        let code = || {
            let document = shared_document(checked, task, frozen);
            read_back(&canonical(&document, &checked.profile().rule_set), &Tables::built_in().spelling)
        };
        codes.entry(task.shared_key()).or_insert_with(code);
    }
    codes
}

/// Prints the code of a task's kind and audience at the foot of its document.
pub fn stamp(document: &mut Document, task: &Task, codes: &Codes) {
    document.foot.read_back = codes.get(&task.shared_key()).cloned();
}
