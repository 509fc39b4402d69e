//! A folder that a build wrote: what stands in it, and whether all of it is ours.

use super::calls::{Calls, JOURNAL, NEXT_TAIL, OWN_HEAD, PART_TAIL, Stands, hash, read};
use super::lock;
use super::lock::Lock;
use super::part::failed;
use super::say;
use crate::ground::{Failure, ReadFault, caps};
use crate::ledger::{MANIFEST, Manifest, SIGNATURE, SIGNATURE_HEAD, Unread, is_plain_name};
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsStr;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Files that a stopped build may have left, as `(name, hash)` with their sizes: by what they hold, so that a line that names
/// somebody's file does not make it ours.
pub type Journal = BTreeMap<(String, String), u64>;

/// What to do about a file that is not ours.
const MOVE_AWAY: &str = "move it away, or name another folder";

/// A folder that is locked, and of which every file is accounted for.
pub struct StandingFolder<'a> {
    /// The calls through which it was read.
    pub calls: &'a dyn Calls,
    /// The folder.
    pub folder: PathBuf,
    /// The manifest of the edition that stands there.
    pub manifest: Option<Manifest>,
    /// Names of all files of ours but the manifest.
    pub own: BTreeSet<String>,
    /// Names of the files that are as the manifest says.
    pub whole: BTreeSet<String>,
    /// What a stopped build left; none when none was stopped.
    pub journal: Option<Journal>,
    lock: Lock<'a>,
}

impl<'a> StandingFolder<'a> {
    /// Makes a folder where none is, locks it, accounts for all that stands in it, and clears what a stopped build left unplaced.
    ///
    /// # Errors
    /// When it cannot be made or locked, or holds a file that this program did not write.
    pub fn take(calls: &'a dyn Calls, folder: &Path, patience: Duration) -> Result<Self, Failure> {
        let is_own = |name: &OsStr| name.as_encoded_bytes().starts_with(OWN_HEAD.as_bytes());
        if folder.file_name().is_some_and(is_own) {
            let why =
                format!("names that begin with {OWN_HEAD} are those of what a stopped build leaves; write another");
            return Err(Failure::new(folder.display().to_string(), why));
        }
        let lock = lock::alone(calls, folder, patience)?;
        if let Err(Failure { path, cause }) = Self::clear_left(calls, folder) {
            let (path, until) = (say::path(Path::new(&path)), "until that is gone files take their places one by one");
            say::err(&format!("note: {path}: {cause}; {until}\n"));
        }
        Self::read(calls, folder, lock)
    }

    /// Removes what stands beside a folder that is held, since a run was stopped as it took the folder's place.
    fn clear_left(calls: &'a dyn Calls, folder: &Path) -> Result<(), Failure> {
        let Some((_, left)) = places(calls, folder) else { return Ok(()) };
        match calls.named(&left) {
            Ok(Stands::Folder) => {
                let lock = lock::alone(calls, &left, Duration::ZERO)?;
                Self::read(calls, &left, lock)?.remove_all()
            }
            // A link may lead to a kit that is to stay.
            Ok(_) => Err(Failure::new(left.display().to_string(), "this is no folder, so fieldsheaf did not make it")),
            Err(_) => Ok(()),
        }
    }

    /// Reads a folder that is locked.
    fn read(calls: &'a dyn Calls, folder: &Path, lock: Lock<'a>) -> Result<Self, Failure> {
        let manifest =
            manifest(calls, folder)?.transpose().map_err(|why| not_ours(folder, MANIFEST, &why.to_string()))?;
        let journal = journal(calls, folder)?;
        let mut standing = Self {
            calls,
            folder: folder.to_owned(),
            manifest,
            own: BTreeSet::new(),
            whole: BTreeSet::new(),
            journal,
            lock,
        };
        let parts = standing.account()?;
        parts.iter().try_for_each(|part| standing.remove(part))?;
        Ok(standing)
    }

    /// All names of ours, in the order in which they can go: what vouches for the others comes last.
    pub fn names(&self) -> Vec<String> {
        let own = self.own.iter().cloned();
        own.chain(self.manifest.iter().map(|_| MANIFEST.to_owned()))
            .chain(self.journal.iter().map(|_| JOURNAL.to_owned()))
            .collect()
    }

    /// Whether the folder that is held stands under this name. Where none can be held nobody knows better.
    pub fn is_at(&self, name: &Path) -> bool {
        self.lock.is_at(name)
    }

    /// Removes a folder that a stopped run left, and all that is in it.
    fn remove_all(self) -> Result<(), Failure> {
        self.names().iter().try_for_each(|name| self.remove(name))?;
        self.calls.remove_folder(&self.folder).map_err(|fault| failed(&self.folder, &fault))
    }

    /// Removes a file; one that is gone already is no fault.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn remove(&self, name: &str) -> Result<(), Failure> {
        let path = self.folder.join(name);
        match self.calls.remove(&path) {
            Err(fault) if fault.kind() != ErrorKind::NotFound => Err(failed(&path, &fault)),
            _ => Ok(()),
        }
    }

    /// Accounts once more for all that stands there: much time may have gone by since the folder was taken.
    ///
    /// # Errors
    /// When it holds a file that this program did not write, or that was changed since.
    pub fn account_again(&mut self) -> Result<(), Failure> {
        self.own.clear();
        self.whole.clear();
        self.account().map(drop)
    }

    /// Says that what was written to the folder stays.
    pub fn keep(&mut self) {
        self.lock.keep();
    }

    /// Sorts all names of the folder, and gives those of files that were never placed. Nothing is touched before all are known.
    fn account(&mut self) -> Result<Vec<String>, Failure> {
        let mut parts = Vec::new();
        for (name, stands) in names(self.calls, &self.folder)? {
            let is_file = stands == Stands::File;
            match name.as_str() {
                MANIFEST | JOURNAL if is_file => {}
                part if is_file && is_part(part) => parts.push(name),
                SIGNATURE if is_file => self.account_for_signature(name)?,
                _ => self.account_for(name, is_file)?,
            }
        }
        Ok(parts)
    }

    /// A signature is ours by its first line: it goes with the manifest that it is of.
    fn account_for_signature(&mut self, name: String) -> Result<(), Failure> {
        let text = text(self.calls, &self.folder.join(SIGNATURE), caps::SIGNATURE_BYTES.most)?;
        if !text.is_some_and(|text| text.starts_with(SIGNATURE_HEAD)) {
            return Err(not_ours(&self.folder, &name, "was not written by fieldsheaf"));
        }
        self.own.insert(name);
        Ok(())
    }

    fn account_for(&mut self, name: String, is_file: bool) -> Result<(), Failure> {
        let entry = self.manifest.as_ref().and_then(|manifest| manifest.entry(&name));
        let written = entry.map(|entry| (entry.sha256.as_str(), entry.bytes));
        let from = (name.clone(), String::new());
        let begun = self.journal.iter().flat_map(|journal| journal.range(from.clone()..));
        let begun = begun.take_while(|((begun, _), _)| *begun == name);
        let begun: Vec<(&str, u64)> = begun.map(|((_, hash), size)| (hash.as_str(), *size)).collect();
        if !is_file || (written.is_none() && begun.is_empty()) {
            return Err(not_ours(&self.folder, &name, "was not written by fieldsheaf"));
        }
        let path = self.folder.join(&name);
        let is = |(sha256, size): (&str, u64)| {
            let hash = hash(self.calls, &path, size);
            let hash = hash.map_err(|fault| Failure::new(path.display().to_string(), told(&fault)))?;
            Ok(hash.as_deref() == Some(sha256))
        };
        if written.map(&is).transpose()? == Some(true) {
            self.whole.insert(name.clone());
        } else if !begun.into_iter().map(is).collect::<Result<Vec<bool>, _>>()?.contains(&true) {
            return Err(not_ours(&self.folder, &name, "was changed after fieldsheaf wrote it"));
        }
        self.own.insert(name);
        Ok(())
    }
}

fn not_ours(folder: &Path, name: &str, why: &str) -> Failure {
    Failure::new(folder.join(name).display().to_string(), format!("this file {why}; {MOVE_AWAY}"))
}

fn told(fault: &ReadFault) -> String {
    match fault {
        ReadFault::TooLarge(size) => format!("it holds {size} bytes, more than one of ours does; {MOVE_AWAY}"),
        ReadFault::NotAFile => format!("this is no plain file, so fieldsheaf did not write it; {MOVE_AWAY}"),
        other => other.to_string(),
    }
}

/// A folder, links followed, and where another is filled that is to take its place; none where it has no name of its own.
pub fn places(calls: &dyn Calls, folder: &Path) -> Option<(PathBuf, PathBuf)> {
    let folder = calls.resolve(folder).ok()?;
    let name = folder.file_name()?.to_str()?;
    let beside = folder.with_file_name(format!("{OWN_HEAD}{name}{NEXT_TAIL}"));
    Some((folder, beside))
}

/// Whether a name is one under which files wait for their places.
pub fn is_part(name: &str) -> bool {
    name.starts_with(OWN_HEAD) && name.ends_with(PART_TAIL)
}

/// The manifest of a finished folder, or why it is none of ours; none when the folder has none.
///
/// # Errors
/// When there is one that cannot be read.
pub fn manifest(calls: &dyn Calls, folder: &Path) -> Result<Option<Result<Manifest, Unread>>, Failure> {
    let text = text(calls, &folder.join(MANIFEST), caps::MANIFEST_BYTES.most)?;
    Ok(text.map(|text| Manifest::parse(&text)))
}

/// What the journal lists; none when there is no journal.
fn journal(calls: &dyn Calls, folder: &Path) -> Result<Option<Journal>, Failure> {
    let Some(text) = text(calls, &folder.join(JOURNAL), caps::JOURNAL_BYTES.most)? else { return Ok(None) };
    let entry = |line: &str| {
        let mut words = line.split(' ');
        let (sha256, size, name) = (words.next()?, words.next()?.parse().ok()?, words.next()?);
        is_plain_name(name).then(|| ((name.to_owned(), sha256.to_owned()), size))
    };
    Ok(Some(text.lines().filter_map(entry).collect()))
}

/// The journal as it stands on the disk.
pub fn journal_text(journal: &Journal) -> String {
    journal.iter().map(|((name, sha256), size)| format!("{sha256} {size} {name}\n")).collect()
}

/// What a file of a finished folder says; none when there is none.
///
/// # Errors
/// When there is one that cannot be read.
pub fn text(calls: &dyn Calls, path: &Path, limit: u64) -> Result<Option<String>, Failure> {
    let fail = |why: String| Failure::new(path.display().to_string(), why);
    match read(calls, path, limit) {
        Err(ReadFault::Missing) => Ok(None),
        Err(fault) => Err(fail(told(&fault))),
        Ok(bytes) => String::from_utf8(bytes).map(Some).map_err(|_| fail(format!("this is not text; {MOVE_AWAY}"))),
    }
}

/// The hash of every file of a finished folder that may be what its manifest says, by name; nothing for any other, which is not
/// even read.
///
/// # Errors
/// When the folder or a file in it cannot be read.
pub fn hashes(calls: &dyn Calls, folder: &Path, manifest: &Manifest) -> Result<BTreeMap<String, String>, Failure> {
    let mut hashes = BTreeMap::new();
    for (name, stands) in names(calls, folder)? {
        let path = folder.join(&name);
        let hash = match manifest.entry(&name).filter(|_| stands == Stands::File) {
            Some(entry) => match hash(calls, &path, entry.bytes) {
                Ok(hash) => hash,
                Err(ReadFault::NotAFile | ReadFault::TooLarge(_)) => None,
                Err(fault) => return Err(Failure::new(path.display().to_string(), fault.to_string())),
            },
            None => None,
        };
        hashes.insert(name, hash.unwrap_or_default());
    }
    Ok(hashes)
}

/// Names in a folder and what stands under them, sorted. A name that is not text, or would break a line, is shown in quotes.
fn names(calls: &dyn Calls, folder: &Path) -> Result<BTreeMap<String, Stands>, Failure> {
    let most = caps::KIT_ENTRIES.most;
    let entries = calls.entries(folder, most).map_err(|fault| failed(folder, &fault))?;
    if u64::try_from(entries.len()).is_ok_and(|count| count > most) {
        return Err(Failure::new(folder.display().to_string(), format!("this folder holds more than {most} files")));
    }
    Ok(entries.into_iter().map(|(name, stands)| (shown(&name), stands)).collect())
}

fn shown(name: &OsStr) -> String {
    match name.to_str() {
        Some(name) if !name.contains(char::is_control) => name.to_owned(),
        _ => format!("{name:?}"),
    }
}
