//! A finished folder on disk: all files are written beside their names first, then take their places, the manifest last.
//!
//! What a stopped run left is cleared by the next: a journal lists every file before the first takes its place. Nothing else is
//! ever touched.

use super::folder::{JOURNAL, Journal, Standing, journal_text};
use super::part::{Part, failed};
use crate::ground::{Failure, Sink};
use crate::ledger::{Manifest, is_plain_name};
use std::collections::BTreeSet;
use std::io::ErrorKind;
use std::path::Path;

/// Takes the files of one kit. Nothing stands under its name before [`FolderSink::finish`].
pub struct FolderSink<'a> {
    standing: Standing<'a>,
    /// What the journal will list: what an earlier run left, and what this one puts there.
    journal: Journal,
    /// Names that the manifest keeps or brings; all others of ours go.
    stays: BTreeSet<String>,
    taken: BTreeSet<String>,
    parts: Vec<(String, Part<'a>)>,
    /// How much was changed, so that a fault before the first change is told from one after it.
    changed: usize,
}

impl<'a> FolderSink<'a> {
    /// Takes a locked folder, for the files of a manifest.
    #[must_use]
    pub fn new(standing: Standing<'a>, manifest: &Manifest) -> Self {
        let mut journal = standing.journal.clone().unwrap_or_default();
        // The old manifest vouches for its own files until it is replaced, and by then they are gone.
        for entry in &manifest.files {
            journal.insert((entry.name.clone(), entry.sha256.clone()), entry.bytes);
        }
        let stays = manifest.files.iter().map(|entry| entry.name.clone()).collect();
        Self { standing, journal, stays, taken: BTreeSet::new(), parts: Vec::new(), changed: 0 }
    }

    /// Puts every file in its place, in the order in which they came; what goes is removed before the last of them, the manifest.
    ///
    /// # Errors
    /// When the machine refuses. Where a file had taken its place by then, the journal stays, and the next run completes the work.
    pub fn finish(mut self) -> Result<(), Failure> {
        let (calls, folder) = (self.standing.calls, self.standing.folder.clone());
        let place = folder.join(JOURNAL);
        let text = journal_text(&self.journal);
        let journal = Part::write(calls, &folder, text.as_bytes(), None).map_err(|fault| failed(&place, &fault))?;
        journal.onto(&place).map_err(|fault| failed(&place, &fault))?;
        // Not every system can do it for a folder.
        let _ = calls.sync_folder(&folder);
        self.place_all().map_err(|failure| {
            if self.changed == 0 && self.standing.journal.is_none() && calls.remove(&place).is_ok() {
                return failure;
            }
            let cause =
                format!("{}; this folder is half of one edition and half of another: build again", failure.cause);
            Failure::new(failure.path, cause)
        })?;
        // So that after a power cut the names are as sure as the bytes.
        let _ = calls.sync_folder(&folder);
        self.remove(&place)
    }

    fn place_all(&mut self) -> Result<(), Failure> {
        let last = self.parts.pop();
        for (name, part) in std::mem::take(&mut self.parts) {
            self.place(&name, part)?;
        }
        for name in self.standing.own.difference(&self.stays) {
            self.remove(&self.standing.folder.join(name))?;
            self.changed += 1;
        }
        last.map_or(Ok(()), |(name, part)| self.place(&name, part))
    }

    fn place(&mut self, name: &str, part: Part<'a>) -> Result<(), Failure> {
        let place = self.standing.folder.join(name);
        part.onto(&place).map_err(|fault| failed(&place, &fault))?;
        self.changed += 1;
        Ok(())
    }

    fn remove(&self, path: &Path) -> Result<(), Failure> {
        match self.standing.calls.remove(path) {
            Err(fault) if fault.kind() != ErrorKind::NotFound => Err(failed(path, &fault)),
            _ => Ok(()),
        }
    }
}

impl Sink for FolderSink<'_> {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let place = self.standing.folder.join(name);
        let refused = |why: &str| Err(Failure::new(place.display().to_string(), why));
        if !is_plain_name(name) {
            return refused("this is not a plain file name");
        }
        if !self.taken.insert(name.to_owned()) {
            return refused("two documents would be files of this name; give one of them another id");
        }
        let replaced = self.standing.own.contains(name).then_some(place.as_path());
        let part = Part::write(self.standing.calls, &self.standing.folder, bytes, replaced);
        self.parts.push((name.to_owned(), part.map_err(|fault| failed(&place, &fault))?));
        Ok(())
    }
}
