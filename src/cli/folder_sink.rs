//! A finished folder on disk: all files are written beside their names first, then take their places, the manifest last.
//!
//! What a stopped run left is cleared by the next: a journal names every file before it is touched. Nothing else is ever touched.
#![expect(clippy::disallowed_methods, reason = "this is the one place that writes finished files")]

use super::disk::cause;
use crate::ground::{Failure, Sink};
use crate::ledger::{MANIFEST, Manifest, is_plain_name, sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Names the files that a run is about to write, one a line; there only while it runs, or after it was stopped.
pub const JOURNAL: &str = ".fieldsheaf-unfinished";

const PART: &str = ".part";

/// Takes the files of one kit. Nothing stands under its name before [`FolderSink::finish`].
#[derive(Debug)]
pub struct FolderSink {
    folder: PathBuf,
    /// Files of the edition that is replaced.
    old: BTreeSet<String>,
    parts: Vec<String>,
    is_finished: bool,
}

impl FolderSink {
    /// Opens a folder for files of these names, the manifest among them; makes it when it is not there.
    ///
    /// # Errors
    /// When it cannot be made or written, or holds a file that this program did not write.
    pub fn open(folder: &Path, names: &[String]) -> Result<Self, Failure> {
        if let Some(name) = names.iter().find(|name| !is_plain_name(name)) {
            return Err(Failure::new(name.as_str(), "this is not a plain file name"));
        }
        std::fs::create_dir_all(folder).map_err(|fault| failed(folder, &fault))?;
        let begun = journal(folder)?;
        let old = own_files(folder, &begun)?;
        for name in &begun {
            remove(&folder.join(format!("{name}{PART}")))?;
        }
        let mut all: BTreeSet<String> = names.iter().cloned().collect();
        all.extend(begun);
        all.extend(old.iter().cloned());
        let lines: String = all.iter().map(|name| format!("{name}\n")).collect();
        write(&folder.join(JOURNAL), lines.as_bytes())?;
        Ok(Self { folder: folder.to_owned(), old, parts: Vec::new(), is_finished: false })
    }

    /// Puts every file in its place, in the order in which they came, then removes those of the older edition.
    ///
    /// # Errors
    /// When the machine refuses. The journal then stays, and the next run completes the work.
    pub fn finish(mut self) -> Result<(), Failure> {
        self.is_finished = true;
        for name in &self.parts {
            let place = self.folder.join(name);
            std::fs::rename(self.folder.join(format!("{name}{PART}")), &place)
                .map_err(|fault| failed(&place, &fault))?;
        }
        // So that after a power cut the names are as sure as the bytes. Not every system can do it for a folder.
        let _ = File::open(&self.folder).and_then(|folder| folder.sync_all());
        for name in self.old.iter().filter(|name| !self.parts.contains(name)) {
            remove(&self.folder.join(name))?;
        }
        remove(&self.folder.join(JOURNAL))
    }
}

impl Sink for FolderSink {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.parts.push(name.to_owned());
        write(&self.folder.join(format!("{name}{PART}")), bytes)
    }
}

impl Drop for FolderSink {
    /// A run that failed leaves the folder as it was. What cannot be removed now, the next run removes by the journal.
    fn drop(&mut self) {
        if self.is_finished {
            return;
        }
        let mut is_clear = true;
        for name in &self.parts {
            is_clear &= remove(&self.folder.join(format!("{name}{PART}"))).is_ok();
        }
        if is_clear && journal(&self.folder).is_ok_and(|names| names.iter().all(|name| self.is_settled(name))) {
            let _ = remove(&self.folder.join(JOURNAL));
        }
    }
}

impl FolderSink {
    /// Whether a journalled name needs no journal: nothing stands under it, or the old manifest vouches for it.
    fn is_settled(&self, name: &str) -> bool {
        let Ok(Some(manifest)) = manifest(&self.folder) else { return !self.folder.join(name).exists() };
        name == MANIFEST || !self.folder.join(name).exists() || is_as_written(&self.folder, name, &manifest)
    }
}

/// The manifest of a finished folder; none when the folder has none.
///
/// # Errors
/// When there is one that cannot be read or is not ours.
pub fn manifest(folder: &Path) -> Result<Option<Manifest>, Failure> {
    let path = folder.join(MANIFEST);
    match std::fs::read(&path) {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(fault) => Err(failed(&path, &fault)),
        Ok(bytes) => {
            let read = std::str::from_utf8(&bytes).ok().and_then(Manifest::parse);
            let ours = read.ok_or_else(|| {
                Failure::new(path.display().to_string(), "this is not a manifest that this version reads")
            });
            ours.map(Some)
        }
    }
}

/// The hash of every file of a finished folder, by name; a folder inside it counts as a file that cannot be ours.
///
/// # Errors
/// When the folder or a file in it cannot be read.
pub fn hashes(folder: &Path) -> Result<BTreeMap<String, String>, Failure> {
    let mut hashes = BTreeMap::new();
    for (name, is_file) in entries(folder)? {
        let path = folder.join(&name);
        let hash =
            if is_file { sha256(&std::fs::read(&path).map_err(|fault| failed(&path, &fault))?) } else { String::new() };
        hashes.insert(name, hash);
    }
    Ok(hashes)
}

/// Names in a folder and whether each is a plain file, sorted.
fn entries(folder: &Path) -> Result<BTreeMap<String, bool>, Failure> {
    let fail = |fault: std::io::Error| failed(folder, &fault);
    let mut names = BTreeMap::new();
    for entry in std::fs::read_dir(folder).map_err(fail)? {
        let entry = entry.map_err(fail)?;
        let is_file = entry.file_type().map_err(fail)?.is_file();
        names.insert(entry.file_name().to_string_lossy().into_owned(), is_file);
    }
    Ok(names)
}

/// The files of the older edition. Refuses a folder with a file that neither the manifest nor the journal accounts for.
fn own_files(folder: &Path, begun: &BTreeSet<String>) -> Result<BTreeSet<String>, Failure> {
    let written = manifest(folder)?;
    let mut own = BTreeSet::new();
    for (name, is_file) in entries(folder)? {
        let stem = name.strip_suffix(PART).unwrap_or(&name);
        if is_file && (name == JOURNAL || begun.contains(&name) || begun.contains(stem)) {
            own.extend(begun.contains(&name).then_some(name));
            continue;
        }
        let is_known = written.as_ref().is_some_and(|manifest| name == MANIFEST || manifest.entry(&name).is_some());
        let place = || folder.join(&name).display().to_string();
        if !is_file || !is_known {
            return Err(Failure::new(
                place(),
                "this file was not written by fieldsheaf; move it away, or name another folder",
            ));
        }
        if written.as_ref().is_some_and(|manifest| name != MANIFEST && !is_as_written(folder, &name, manifest)) {
            return Err(Failure::new(
                place(),
                "this file was changed after fieldsheaf wrote it; move it away, or name another folder",
            ));
        }
        own.insert(name);
    }
    Ok(own)
}

fn is_as_written(folder: &Path, name: &str, manifest: &Manifest) -> bool {
    let bytes = std::fs::read(folder.join(name));
    bytes.is_ok_and(|bytes| manifest.entry(name).is_some_and(|entry| entry.sha256 == sha256(&bytes)))
}

/// The names in the journal. A last line without its end was cut off before anything of it was written.
fn journal(folder: &Path) -> Result<BTreeSet<String>, Failure> {
    let path = folder.join(JOURNAL);
    match std::fs::read_to_string(&path) {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => Ok(BTreeSet::new()),
        Err(fault) => Err(failed(&path, &fault)),
        Ok(text) => {
            let whole = text.split_inclusive('\n').filter_map(|line| line.strip_suffix('\n'));
            Ok(whole.filter(|name| is_plain_name(name)).map(str::to_owned).collect())
        }
    }
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut file = File::create(path).map_err(|fault| failed(path, &fault))?;
    file.write_all(bytes).and_then(|()| file.sync_all()).map_err(|fault| failed(path, &fault))
}

fn remove(path: &Path) -> Result<(), Failure> {
    match std::fs::remove_file(path) {
        Err(fault) if fault.kind() != std::io::ErrorKind::NotFound => Err(failed(path, &fault)),
        _ => Ok(()),
    }
}

fn failed(path: &Path, fault: &std::io::Error) -> Failure {
    Failure::new(path.display().to_string(), cause(fault))
}
