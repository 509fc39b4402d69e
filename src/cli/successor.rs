//! A folder that is filled beside another and takes its place in one step: whoever looks, and whenever the power goes, the old
//! edition stands there or the new one. Where a system, a disk or a folder knows no such step, files take their places one by one.

use super::calls::{Calls, JOURNAL};
use super::folder::{StandingFolder, places};
use super::part::Part;
use super::say;
use crate::ground::caps;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

/// A folder beside the one whose place it is to take. Dropped before it took the place, it goes with what was written to it.
pub struct Successor<'a> {
    calls: &'a dyn Calls,
    /// The folder whose place it takes, links followed.
    folder: PathBuf,
    /// Where it is filled; the old folder once it took the place.
    beside: PathBuf,
    /// What stands in `beside` and is ours, in the order in which it can go: what vouches for the others comes last.
    names: Vec<String>,
    /// Holds the new folder until the old one is gone.
    lock: Option<File>,
}

impl<'a> Successor<'a> {
    /// Begins an empty one; none where there can be none. The journal in it says what is ours, should the run be stopped.
    pub fn begin(calls: &'a dyn Calls, folder: &Path, journal: &str) -> Option<Self> {
        let (folder, beside) = places(calls, folder)?;
        calls.make_like(&folder, &beside).ok()?;
        let successor = Self { calls, folder, beside, names: vec![JOURNAL.to_owned()], lock: None };
        let journal = Part::write(calls, &successor.beside, journal.as_bytes(), None).ok()?;
        journal.onto(&successor.beside.join(JOURNAL)).ok()?;
        Some(successor)
    }

    /// Takes the place with these files, and those of the old folder that stay. After a fault nothing has taken its place yet, and
    /// each part is still to be placed.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn take_place(&mut self, stay: &[String], parts: &mut [(&str, &mut Part<'_>)]) -> io::Result<()> {
        let calls = self.calls;
        let names = stay.iter().map(String::as_str).chain(parts.iter().map(|(name, _)| *name));
        self.names.splice(0..0, names.map(str::to_owned));
        stay.iter().try_for_each(|name| calls.link(&self.folder.join(name), &self.beside.join(name)))?;
        parts.iter_mut().try_for_each(|(name, part)| part.wait_as(&self.beside.join(*name)))?;
        calls.remove(&self.beside.join(JOURNAL))?;
        // Not every system can do it for a folder.
        let _ = calls.sync_folder(&self.beside);
        self.lock = calls.lock(&self.beside, true)?;
        calls.exchange(&self.beside, &self.folder)?;
        self.names.clear();
        parts.iter_mut().for_each(|(_, part)| part.settle());
        // The old edition goes when the new one is sure.
        if let Some(above) = self.folder.parent() {
            let _ = calls.sync_folder(above);
        }
        Ok(())
    }

    /// Removes the old edition, which stands beside the new one now.
    pub fn remove_old(mut self, old: &StandingFolder<'_>) {
        let (calls, beside) = (self.calls, self.beside.clone());
        if !old.is_at(&beside) {
            let what = "somebody put another folder there in the last moment; it is theirs, and stands here now";
            say::err(&format!("note: {}: {what}\n", say::path(&beside)));
            return;
        }
        let names = old.names();
        // What somebody put there in the last moment goes where it will be looked for.
        for (name, _) in calls.entries(&beside, caps::KIT_ENTRIES.most).unwrap_or_default() {
            let place = self.folder.join(&name);
            if !names.iter().any(|own| name == **own) && calls.named(&place).is_err() {
                let _ = calls.move_onto(&beside.join(&name), &place);
            }
        }
        self.names = names;
        drop(self);
        if calls.named(&beside).is_ok() {
            say::err(&format!("note: {} could not be removed; the next build tries again\n", say::path(&beside)));
        }
    }
}

impl Drop for Successor<'_> {
    fn drop(&mut self) {
        let is_gone = |name: &String| match self.calls.remove(&self.beside.join(name)) {
            Ok(()) => true,
            Err(fault) => fault.kind() == io::ErrorKind::NotFound,
        };
        // After one that stays, so does what vouches for it.
        if self.names.iter().all(is_gone) {
            let _ = self.calls.remove_folder(&self.beside);
        }
    }
}
