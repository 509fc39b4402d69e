//! A finished folder on disk: each file is written beside its name as soon as it is finished; when all are sure on the disk, they
//! take their places: all at once in a folder that takes this one's place, or one by one, the manifest last.
//!
//! What a stopped run left is cleared by the next: a journal lists every file before the first takes its place. Nothing else is
//! ever touched.

use super::calls::{Calls, JOURNAL};
use super::folder::{Journal, StandingFolder, journal_text};
use super::part::{OpenPart, Part, failed};
use super::successor::Successor;
use crate::ground::{Failure, Sink, SinkFile, caps};
use crate::ledger::{MANIFEST, Manifest, SIGNATURE, is_plain_name};
use std::collections::{BTreeMap, BTreeSet};
use std::mem;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock, PoisonError};
use std::time::Duration;

/// So many files are written before the disk is waited for: that many are open at a time.
const OPEN: usize = 64;

/// So many threads wait for the disk, which takes many files in little more time than one.
const WAITING: usize = 8;

/// Takes the files of one kit. Nothing stands under its name before [`FolderSink::finish`], and nothing at all stays where that is
/// never called.
pub struct FolderSink<'a> {
    calls: &'a dyn Calls,
    folder: PathBuf,
    /// Above what follows: they are gone when the folder is let go.
    parts: Mutex<FolderParts<'a>>,
    /// The folder, from the first file on: a plan in which an error is found before that leaves it alone.
    standing: OnceLock<Result<StandingFolder<'a>, Failure>>,
}

/// The files that were taken.
#[derive(Default)]
struct FolderParts<'a> {
    names: BTreeSet<String>,
    /// Written, and not yet sure.
    written: Vec<WrittenPart<'a>>,
    /// By name, so that they take their places in one order whichever was finished first.
    sure: BTreeMap<String, Part<'a>>,
}

/// A file on its way to the disk.
struct WrittenPart<'a> {
    name: String,
    place: PathBuf,
    part: OpenPart<'a>,
}

impl<'a> FolderSink<'a> {
    /// Nothing taken yet.
    #[must_use]
    pub fn new(calls: &'a dyn Calls, folder: &Path) -> Self {
        Self { calls, folder: folder.to_owned(), parts: Mutex::default(), standing: OnceLock::new() }
    }

    fn standing(&self) -> Result<&StandingFolder<'a>, Failure> {
        self.standing.get_or_init(|| taken(self.calls, &self.folder)).as_ref().map_err(Clone::clone)
    }

    /// Puts every file in its place, in the order of their names; what goes is removed before the last of them, the manifest, which
    /// `manifest` makes of what stands there. Gives that.
    ///
    /// # Errors
    /// When the machine refuses, or `manifest`. Where a file had taken its place by then, the journal stays, and the next run
    /// completes the work.
    pub fn finish(
        self,
        manifest: impl FnOnce(&StandingFolder<'a>) -> Result<Manifest, Failure>,
    ) -> Result<Manifest, Failure> {
        let Self { calls, folder, parts, standing } = self;
        let mut standing = standing.into_inner().unwrap_or_else(|| taken(calls, &folder))?;
        let FolderParts { written, mut sure, .. } = parts.into_inner().unwrap_or_else(PoisonError::into_inner);
        sure.extend(made_sure(written)?);
        standing.account_again()?;
        let manifest = manifest(&standing)?;
        Placing { standing, manifest, changed: 0 }.all(sure)
    }
}

impl Sink for FolderSink<'_> {
    fn open<'b>(&'b self, name: &str) -> Result<Box<dyn SinkFile + 'b>, Failure> {
        let standing = self.standing()?;
        let place = self.folder.join(name);
        if !is_plain_name(name) {
            return Err(Failure::new(place.display().to_string(), "this is not a plain file name"));
        }
        let part = OpenPart::new(standing.calls, &standing.folder, replaced(standing, name, &place));
        let part = part.map_err(|fault| failed(&place, &fault))?;
        let written = WrittenPart { name: name.to_owned(), place, part };
        Ok(Box::new(FolderFile { parts: &self.parts, written }))
    }
}

/// A file on its way into the folder: written before the list of files is held, so that no thread waits for another's bytes.
struct FolderFile<'a, 'b> {
    parts: &'b Mutex<FolderParts<'a>>,
    written: WrittenPart<'a>,
}

impl SinkFile for FolderFile<'_, '_> {
    fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        self.written.part.write(bytes).map_err(|fault| failed(&self.written.place, &fault))
    }

    fn finish(self: Box<Self>) -> Result<(), Failure> {
        let Self { parts, written } = *self;
        let held = || parts.lock().unwrap_or_else(PoisonError::into_inner);
        let few = {
            let mut parts = held();
            if !parts.names.insert(written.name.clone()) {
                let why = "two documents would be files of this name; give one of them another id";
                return Err(Failure::new(written.place.display().to_string(), why));
            }
            parts.written.push(written);
            if parts.written.len() < OPEN {
                return Ok(());
            }
            mem::take(&mut parts.written)
        };
        let sure = made_sure(few)?;
        held().sure.extend(sure);
        Ok(())
    }
}

/// Waits until files are on the disk, for many at once; the first by its name tells why some are not.
fn made_sure(written: Vec<WrittenPart<'_>>) -> Result<Vec<(String, Part<'_>)>, Failure> {
    let (count, queue, done) = (written.len(), Mutex::new(written), Mutex::new(Vec::new()));
    let next = || queue.lock().unwrap_or_else(PoisonError::into_inner).pop();
    let work = || {
        while let Some(WrittenPart { name, place, part }) = next() {
            let part = part.finish().map_err(|fault| failed(&place, &fault));
            done.lock().unwrap_or_else(PoisonError::into_inner).push((name, part));
        }
    };
    std::thread::scope(|scope| {
        // A machine that gives no more threads is served by this one.
        (1..count.min(WAITING)).for_each(|_| drop(std::thread::Builder::new().spawn_scoped(scope, work)));
        work();
    });
    let mut done = done.into_inner().unwrap_or_else(PoisonError::into_inner);
    done.sort_by(|(a, _), (b, _)| a.cmp(b));
    done.into_iter().map(|(name, part)| Ok((name, part?))).collect()
}

fn taken<'a>(calls: &'a dyn Calls, folder: &Path) -> Result<StandingFolder<'a>, Failure> {
    StandingFolder::take(calls, folder, Duration::from_secs(caps::LOCK_SECONDS.most))
}

/// The file of ours that another of its name will replace.
fn replaced<'b>(standing: &StandingFolder<'_>, name: &str, place: &'b Path) -> Option<&'b Path> {
    standing.own.contains(name).then_some(place)
}

/// A file beside its place.
fn part<'a>(standing: &StandingFolder<'a>, name: &str, bytes: &[u8]) -> Result<Part<'a>, Failure> {
    let place = standing.folder.join(name);
    let part = Part::write(standing.calls, &standing.folder, bytes, replaced(standing, name, &place));
    part.map_err(|fault| failed(&place, &fault))
}

/// Files on the way to their places.
struct Placing<'a> {
    standing: StandingFolder<'a>,
    manifest: Manifest,
    /// How much was changed, so that a fault before the first change is told from one after it.
    changed: usize,
}

impl<'a> Placing<'a> {
    fn all(mut self, mut parts: BTreeMap<String, Part<'a>>) -> Result<Manifest, Failure> {
        let mut last = part(&self.standing, MANIFEST, manifest_text(&self.manifest)?.as_bytes())?;
        let journal = journal_text(&self.journal());
        let mut successor = Successor::begin(self.standing.calls, &self.standing.folder, &journal);
        let is_done = successor.as_mut().is_some_and(|successor| {
            let stay = self.standing.own.iter().filter(|name| self.stays(name) && !parts.contains_key(*name));
            let stay: Vec<String> = stay.cloned().collect();
            let mut parts: Vec<(&str, &mut Part<'a>)> =
                parts.iter_mut().map(|(name, part)| (name.as_str(), part)).collect();
            parts.push((MANIFEST, &mut last));
            successor.take_place(&stay, &mut parts).is_ok()
        });
        match successor {
            Some(successor) if is_done => {
                successor.remove_old(&self.standing);
                self.standing.keep();
                Ok(self.manifest)
            }
            // Held until the parts that wait in it have left it.
            _successor => self.one_by_one(&journal, parts, last),
        }
    }

    /// Every file into its place after the other: a run that is stopped meanwhile leaves some of two editions, and a journal.
    fn one_by_one(
        mut self,
        journal: &str,
        parts: BTreeMap<String, Part<'a>>,
        last: Part<'a>,
    ) -> Result<Manifest, Failure> {
        let (calls, folder) = (self.standing.calls, self.standing.folder.clone());
        let place = folder.join(JOURNAL);
        let journal = Part::write(calls, &folder, journal.as_bytes(), None).map_err(|fault| failed(&place, &fault))?;
        journal.onto(&place).map_err(|fault| failed(&place, &fault))?;
        // Not every system can do it for a folder.
        let _ = calls.sync_folder(&folder);
        self.each(parts, last).map_err(|failure| {
            if self.changed == 0 && self.standing.journal.is_none() && calls.remove(&place).is_ok() {
                return failure;
            }
            let cause =
                format!("{}; this folder is half of one edition and half of another: build again", failure.cause);
            Failure::new(failure.path, cause)
        })?;
        self.standing.keep();
        // So that after a power cut the names are as sure as the bytes.
        let _ = calls.sync_folder(&folder);
        self.standing.remove(JOURNAL)?;
        Ok(self.manifest)
    }

    /// What an earlier run left, and what this one puts there.
    fn journal(&self) -> Journal {
        let mut journal = self.standing.journal.clone().unwrap_or_default();
        // The old manifest vouches for its own files until it is replaced, and by then they are gone.
        for entry in &self.manifest.files {
            journal.insert((entry.name.clone(), entry.sha256.clone()), entry.bytes);
        }
        journal
    }

    fn each(&mut self, parts: BTreeMap<String, Part<'a>>, last: Part<'a>) -> Result<(), Failure> {
        for (name, part) in parts {
            self.place(&name, part)?;
        }
        let goes = self.standing.own.iter().filter(|name| !self.stays(name));
        let goes: Vec<String> = goes.cloned().collect();
        for name in goes {
            self.standing.remove(&name)?;
            self.changed += 1;
        }
        self.place(MANIFEST, last)
    }

    fn place(&mut self, name: &str, part: Part<'a>) -> Result<(), Failure> {
        let place = self.standing.folder.join(name);
        part.onto(&place).map_err(|fault| failed(&place, &fault))?;
        self.changed += 1;
        Ok(())
    }

    /// Whether a file of this name stands in the folder afterwards. A signature stays with the manifest that it is of.
    fn stays(&self, name: &str) -> bool {
        let is_signed = name == SIGNATURE && self.standing.manifest.as_ref() == Some(&self.manifest);
        is_signed || self.manifest.entry(name).is_some()
    }
}

/// The manifest as it is written.
fn manifest_text(manifest: &Manifest) -> Result<String, Failure> {
    let text = manifest.to_text();
    if u64::try_from(text.len()).is_ok_and(|size| caps::MANIFEST_BYTES.takes(size)) {
        return Ok(text);
    }
    let (files, most) = (manifest.files.len(), caps::MANIFEST_BYTES.most);
    let why = format!("{files} files need {} bytes here, and {most} are the most; order fewer documents", text.len());
    Err(Failure::new(MANIFEST, why))
}
