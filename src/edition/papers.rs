//! Which papers of an old edition are to be replaced: those whose content is another.

use super::canonical::{canonical, hash};
use super::read_back::{ContentHash, code, codes};
use crate::checks::CheckedPlan;
use crate::compose::{Task, document};
use crate::ground::{Bug, on_all_threads};
use crate::tables::Tables;
use std::collections::BTreeMap;

/// A document of a plan, as far as a holder can tell it from another by its codes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaperContent {
    /// Its code: four letters.
    pub code: String,
    /// The code of each holder's own copy, by holder; none of a document that is the same for everybody.
    pub holders: BTreeMap<String, String>,
    /// What all of it comes to, by holder; that of everybody under no name.
    content: BTreeMap<String, [u8; 32]>,
}

/// What becomes of a document from one edition to the next.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaperChange {
    /// The document's id.
    pub document: String,
    /// Its code before; none where it is new.
    pub old: Option<String>,
    /// Its code now; none where it is no more.
    pub new: Option<String>,
    /// Holders whose own copies are to be replaced, come or go; none of a document that is the same for everybody.
    pub holders: Vec<String>,
    /// Whether anything of it is to be replaced, given out or taken back.
    pub is_changed: bool,
}

/// The papers of the documents that a plan orders, by id, but for those that print the findings of a run.
///
/// # Errors
/// When a canonical text cannot be made: a bug.
pub fn papers(checked: &CheckedPlan, tasks: &[Task]) -> Result<BTreeMap<String, PaperContent>, Bug> {
    let tasks: Vec<Task> = tasks.iter().filter(|task| !task.shared_key().kind.is_last()).cloned().collect();
    let codes = codes(checked, &tasks, None)?;
    let copies: Vec<Task> = tasks.iter().flat_map(Task::copies).collect();
    let told = on_all_threads(&copies, 1, |task| {
        // What all copies share was composed for its code.
        let shared = codes.get(task.shared_key()).filter(|_| task.is_shared());
        let own = |hash: ContentHash| (task, code(&hash, &Tables::built_in().spelling).letters, hash);
        match shared {
            Some(shared) => Ok(own(shared.hash)),
            None => canonical(&document(checked, task, None), &checked.profile().rule_set).map(|text| own(hash(&text))),
        }
    });
    let told = told.into_iter().collect::<Result<Vec<_>, Bug>>()?;
    let mut papers: BTreeMap<String, PaperContent> = BTreeMap::new();
    for (task, own, content) in told {
        let holder = task.holder.as_ref().map(ToString::to_string);
        let paper = papers.entry(task.document.to_string()).or_insert_with(|| {
            let code = codes.get(task.shared_key()).map_or_else(String::new, |shared| shared.read_back.letters.clone());
            PaperContent { code, holders: BTreeMap::new(), content: BTreeMap::new() }
        });
        paper.holders.extend(holder.clone().map(|holder| (holder, own)));
        paper.content.insert(holder.unwrap_or_default(), content);
    }
    Ok(papers)
}

/// What becomes of each document, by id.
#[must_use]
pub fn paper_changes(old: &BTreeMap<String, PaperContent>, new: &BTreeMap<String, PaperContent>) -> Vec<PaperChange> {
    let mut names: Vec<&String> = old.keys().chain(new.keys()).collect();
    names.sort();
    names.dedup();
    let change = |name: &String| {
        let (before, now) = (old.get(name), new.get(name));
        let content = |paper: Option<&PaperContent>| paper.map(|paper| paper.content.clone()).unwrap_or_default();
        let (was, is) = (content(before), content(now));
        let mut holders: Vec<String> = was.keys().chain(is.keys()).cloned().collect();
        holders.sort();
        holders.dedup();
        // A holder's own copy that says the same stays valid, whatever the others' say: only the code that all share is another.
        holders.retain(|holder| was.get(holder) != is.get(holder));
        let is_changed = !holders.is_empty();
        holders.retain(|holder| !holder.is_empty());
        let code = |paper: Option<&PaperContent>| paper.map(|paper| paper.code.clone());
        PaperChange { document: name.clone(), old: code(before), new: code(now), holders, is_changed }
    };
    names.into_iter().map(change).collect()
}
