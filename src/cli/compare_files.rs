//! What is another in finished files: in a folder that a build wrote, or in the text that is attached to a document.

use super::calls::Machine;
use super::folder::manifest;
use crate::edition::{CANONICAL, PaperChange};
use crate::ground::{Failure, caps};
use crate::ledger::{Entry, Manifest};
use serde_json::json;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// The manifest of a folder that a build wrote; none of anything else.
///
/// # Errors
/// When it is damaged, or cannot be read.
pub fn finished(path: &Path) -> Result<Option<Manifest>, Failure> {
    if !path.is_dir() {
        return Ok(None);
    }
    let read = manifest(&Machine, path)?;
    let refused = |why| Failure::new(path.display().to_string(), format!("the manifest of this folder {why}"));
    read.map(|read| read.map_err(refused)).transpose()
}

/// The documents of two folders beside each other.
#[must_use]
pub fn folder_changes(old: &Manifest, new: &Manifest) -> Vec<PaperChange> {
    let by_name = |manifest: &Manifest| -> BTreeMap<String, Entry> {
        manifest.files.iter().map(|entry| (entry.name.clone(), entry.clone())).collect()
    };
    let (old, new) = (by_name(old), by_name(new));
    let mut names: Vec<&String> = old.keys().chain(new.keys()).collect();
    names.sort();
    names.dedup();
    let change = |name: &String| {
        let (was, is) = (old.get(name), new.get(name));
        let content = |entry: Option<&Entry>| entry.map(|entry| (entry.content.clone(), entry.holder_content.clone()));
        let holders = |entry: Option<&Entry>| -> BTreeMap<String, String> {
            entry.map(|entry| entry.holder_content.iter().cloned().collect()).unwrap_or_default()
        };
        let (before, now) = (holders(was), holders(is));
        let mut of: Vec<String> = before.keys().chain(now.keys()).cloned().collect();
        of.sort();
        of.dedup();
        of.retain(|holder| before.get(holder) != now.get(holder));
        let code = |entry: Option<&Entry>| entry.and_then(|entry| entry.code.clone());
        let is_changed = content(was) != content(is);
        PaperChange { document: name.clone(), old: code(was), new: code(is), holders: of, is_changed }
    };
    names.into_iter().map(change).collect()
}

/// The text of a document, as it is attached to it; none of anything else.
///
/// # Errors
/// When it cannot be read.
pub fn attached(path: &Path) -> Result<Option<String>, Failure> {
    if path.is_dir() || path.extension().is_none_or(|ending| ending != "txt") {
        return Ok(None);
    }
    let bytes = super::calls::read(&Machine, path, caps::PLAN_FILE.most)
        .map_err(|fault| Failure::new(path.display().to_string(), fault.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|_| Failure::new(path.display().to_string(), "this is not text"))?;
    if text.lines().next() != Some(CANONICAL) {
        let why = format!("this is not the text of a document: its first line is not \"{CANONICAL}\"");
        return Err(Failure::new(path.display().to_string(), why));
    }
    Ok(Some(text))
}

/// A line of a document's text that is another: its path, before, now.
pub struct LineChange<'a> {
    path: &'a str,
    old: Option<&'a str>,
    new: Option<&'a str>,
}

/// The lines that are others, in the order of their paths.
#[must_use]
pub fn line_changes<'a>(old: &'a str, new: &'a str) -> Vec<LineChange<'a>> {
    let lines = |text: &'a str| -> BTreeMap<&'a str, &'a str> {
        text.lines().filter_map(|line| line.split_once('\t')).collect()
    };
    let (old, new) = (lines(old), lines(new));
    let mut paths: Vec<&str> = old.keys().chain(new.keys()).copied().collect();
    paths.sort_unstable();
    paths.dedup();
    let change = |path: &'a str| LineChange { path, old: old.get(path).copied(), new: new.get(path).copied() };
    paths.into_iter().map(change).filter(|change| change.old != change.new).collect()
}

/// In words.
#[must_use]
pub fn lines_text(changes: &[LineChange<'_>]) -> String {
    let mut text = String::new();
    for LineChange { path, old, new } in changes {
        let (old, new) = (old.unwrap_or("not there"), new.unwrap_or("not there"));
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{path}: {old} -> {new}");
    }
    if changes.is_empty() { "nothing is another\n".to_owned() } else { text }
}

/// For other programs.
#[must_use]
pub fn lines_json(changes: &[LineChange<'_>]) -> serde_json::Value {
    let line = |LineChange { path, old, new }: &LineChange<'_>| json!({ "path": path, "old": old, "new": new });
    json!({ "format": 1, "lines": changes.iter().map(line).collect::<Vec<_>>() })
}

/// What two arguments were meant to be, where one of them is of another sort than the other.
pub fn unlike(old: &Path, new: &Path) -> Failure {
    let why = format!("{} is of another sort: compare two plans, two finished folders, or two texts", new.display());
    Failure::new(old.display().to_string(), why)
}
