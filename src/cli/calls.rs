//! Every call by which the program reads and writes files, and the clock: what follows no link is decided here, and a test can
//! make each call fail.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the one place that reads and writes the disk and reads the clock"
)]

use super::exchange;
use crate::ground::{ReadFault, caps};
use std::ffi::OsString;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How the names begin of what stands in a folder only while it is written. Hidden, so that no pattern of a plan means it.
pub const OWN_HEAD: &str = ".fieldsheaf-";
/// How the names of files end that have not taken their places yet.
pub const PART_TAIL: &str = ".part";
/// Lists what a build puts into place and removes; there only while it does so, or after it was stopped.
pub const JOURNAL: &str = ".fieldsheaf-unfinished";
/// How the name of the folder ends that is to take another's place, and stands beside it.
pub const NEXT_TAIL: &str = ".next";

/// What stands under a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stands {
    /// A plain file.
    File,
    /// A folder.
    Folder,
    /// A link, a pipe, a device.
    Other,
}

/// A plain file that was opened to be read.
pub struct Opened {
    /// How many bytes it held when it was opened.
    pub size: u64,
    /// The bytes.
    pub bytes: Box<dyn Read>,
}

/// The machine's files.
pub trait Calls: Sync {
    /// The path without links, as the machine goes it; a fault when nothing stands there.
    ///
    /// # Errors
    /// When nothing stands there, or the system refuses.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf>;
    /// What a path leads to, links followed.
    ///
    /// # Errors
    /// When nothing stands there, or the system refuses.
    fn at(&self, path: &Path) -> io::Result<Stands>;
    /// What stands under a name itself, a link not followed.
    ///
    /// # Errors
    /// When nothing stands there, or the system refuses.
    fn named(&self, path: &Path) -> io::Result<Stands>;
    /// What a folder holds, links not followed; `most` entries and one more at most.
    ///
    /// # Errors
    /// When it cannot be read: no folder, no leave.
    fn entries(&self, folder: &Path, most: u64) -> io::Result<Vec<(OsString, Stands)>>;
    /// Opens a plain file and nothing else: no link, no pipe that would keep us waiting, no device without an end.
    ///
    /// # Errors
    /// When it is no plain file, or cannot be opened.
    fn open(&self, file: &Path) -> Result<Opened, ReadFault>;
    /// Makes a folder and those above it, where they are not there; gives those that it made, the topmost last.
    ///
    /// # Errors
    /// When a file stands in the way, or the system refuses.
    fn make_folder(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;
    /// Makes an empty folder that could stand for another: on the same disk, with the same owner, mode and further rights.
    ///
    /// # Errors
    /// When a name is borne already, the system refuses, it has no [`Calls::exchange`], or the program itself runs in the other
    /// folder, where whoever called it would then stand in one that is gone.
    fn make_like(&self, other: &Path, folder: &Path) -> io::Result<()>;
    /// Lets two folders bear each other's names, in one step: whoever looks meanwhile sees the one or the other.
    ///
    /// # Errors
    /// When the system, or the disk, has no such step.
    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()>;
    /// Gives a file a second name.
    ///
    /// # Errors
    /// When the name is borne, or the disk has no second names.
    fn link(&self, file: &Path, name: &Path) -> io::Result<()>;
    /// Removes an empty folder.
    ///
    /// # Errors
    /// When something stands in it, or the system refuses.
    fn remove_folder(&self, folder: &Path) -> io::Result<()>;
    /// Locks a folder, alone or beside other readers, until the file is dropped. None where the system has no locks for it.
    ///
    /// # Errors
    /// Of the kind [`ErrorKind::WouldBlock`] when another holds it, or it was removed while it was being locked; else when the
    /// folder cannot be opened.
    fn lock(&self, folder: &Path, is_alone: bool) -> io::Result<Option<File>>;
    /// Whether an opened folder stands under this name.
    fn is_at(&self, opened: &File, name: &Path) -> bool;
    /// Creates a file of a random name, never one that is there.
    ///
    /// # Errors
    /// When the folder takes no file.
    fn create(&self, folder: &Path) -> io::Result<(File, PathBuf)>;
    /// As [`Calls::create`], a file that nobody but the user may read, where the system knows such.
    ///
    /// # Errors
    /// When the folder takes no file.
    fn create_closed(&self, folder: &Path) -> io::Result<(File, PathBuf)>;
    /// Fills bytes with chance from the system.
    ///
    /// # Errors
    /// When the system has none.
    fn chance(&self, bytes: &mut [u8]) -> io::Result<()>;
    /// Writes all of it.
    ///
    /// # Errors
    /// When not all of it could be written: the disk is full.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()>;
    /// Gives a file the mode of another.
    ///
    /// # Errors
    /// When the mode cannot be read or given.
    fn mode_of(&self, other: &Path, file: &File) -> io::Result<()>;
    /// Waits until the bytes are on the disk.
    ///
    /// # Errors
    /// When the disk did not take them.
    fn sync(&self, file: &File) -> io::Result<()>;
    /// Moves a file onto a name, whatever stands there; a link there is replaced, not followed.
    ///
    /// # Errors
    /// When the system refuses; the file then stands where it stood.
    fn move_onto(&self, file: &Path, place: &Path) -> io::Result<()>;
    /// Moves a file to a name that nothing bears.
    ///
    /// # Errors
    /// When the name is borne, or the system refuses.
    fn move_to_new(&self, file: &Path, place: &Path) -> io::Result<()>;
    /// Removes a file; a link itself, not what it leads to.
    ///
    /// # Errors
    /// When it is not there, or the system refuses.
    fn remove(&self, file: &Path) -> io::Result<()>;
    /// Waits until the names of a folder are on the disk.
    ///
    /// # Errors
    /// When the disk did not take them.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
    /// Time since 1970 began; nothing by a clock that is before.
    fn now(&self) -> Duration;
}

/// The machine itself.
pub struct Machine;

impl Calls for Machine {
    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        std::fs::canonicalize(path)
    }

    fn at(&self, path: &Path) -> io::Result<Stands> {
        std::fs::metadata(path).map(|about| stands(about.file_type()))
    }

    fn named(&self, path: &Path) -> io::Result<Stands> {
        std::fs::symlink_metadata(path).map(|about| stands(about.file_type()))
    }

    fn entries(&self, folder: &Path, most: u64) -> io::Result<Vec<(OsString, Stands)>> {
        let most = usize::try_from(most).unwrap_or(usize::MAX).saturating_add(1);
        let entry = |entry: io::Result<std::fs::DirEntry>| {
            let entry = entry?;
            Ok((entry.file_name(), stands(entry.file_type()?)))
        };
        std::fs::read_dir(folder)?.take(most).map(entry).collect()
    }

    fn open(&self, file: &Path) -> Result<Opened, ReadFault> {
        let mut options = OpenOptions::new();
        options.read(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::custom_flags(&mut options, libc::O_NOFOLLOW | libc::O_NONBLOCK);
        // Elsewhere a link is told a moment before it could be laid.
        #[cfg(not(unix))]
        if std::fs::symlink_metadata(file).is_ok_and(|about| about.is_symlink()) {
            return Err(ReadFault::NotAFile);
        }
        let file = options.open(file).map_err(|fault| refused(&fault))?;
        let about = file.metadata().map_err(|fault| refused(&fault))?;
        if !about.is_file() {
            return Err(ReadFault::NotAFile);
        }
        Ok(Opened { size: about.len(), bytes: Box::new(file) })
    }

    fn make_folder(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        let is_missing = |at: &&Path| !at.as_os_str().is_empty() && std::fs::symlink_metadata(at).is_err();
        let missing: Vec<PathBuf> = folder.ancestors().take_while(is_missing).map(Path::to_owned).collect();
        std::fs::create_dir_all(folder).inspect_err(|_| {
            // Those above may have been made; what is not empty stays.
            missing.iter().for_each(|made| drop(std::fs::remove_dir(made)));
        })?;
        Ok(missing)
    }

    fn make_like(&self, other: &Path, folder: &Path) -> io::Result<()> {
        exchange::make_like(other, folder)
    }

    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()> {
        exchange::exchange(one, other)
    }

    fn link(&self, file: &Path, name: &Path) -> io::Result<()> {
        std::fs::hard_link(file, name)
    }

    fn remove_folder(&self, folder: &Path) -> io::Result<()> {
        std::fs::remove_dir(folder)
    }

    fn lock(&self, folder: &Path, is_alone: bool) -> io::Result<Option<File>> {
        // The folder itself is locked: a lock file would stay, or be removed under somebody who waits for it.
        if cfg!(not(unix)) {
            return Ok(None);
        }
        let file = File::open(folder)?;
        match if is_alone { file.try_lock() } else { file.try_lock_shared() } {
            Ok(()) if is_at(&file, folder) => Ok(Some(file)),
            // Whoever held it found an error, and took it away again.
            Ok(()) => Err(ErrorKind::WouldBlock.into()),
            Err(TryLockError::WouldBlock) => Err(ErrorKind::WouldBlock.into()),
            // A network share without locks.
            Err(TryLockError::Error(_)) => Ok(None),
        }
    }

    fn is_at(&self, opened: &File, name: &Path) -> bool {
        is_at(opened, name)
    }

    fn create(&self, folder: &Path) -> io::Result<(File, PathBuf)> {
        // As any new file: what the user's mask leaves.
        create_with_mode(folder, 0o666)
    }

    fn create_closed(&self, folder: &Path) -> io::Result<(File, PathBuf)> {
        create_with_mode(folder, 0o600)
    }

    fn chance(&self, bytes: &mut [u8]) -> io::Result<()> {
        getrandom::fill(bytes).map_err(|fault| io::Error::other(fault.to_string()))
    }

    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        file.write_all(bytes)
    }

    fn mode_of(&self, other: &Path, file: &File) -> io::Result<()> {
        let mode = std::fs::symlink_metadata(other)?.permissions();
        // Nothing to do on a file system without modes, such as that of most memory sticks, which would refuse. Elsewhere than on
        // Unix the mode is one bit that says read-only, which the new bytes could then not be given.
        if cfg!(unix) && file.metadata()?.permissions() != mode { file.set_permissions(mode) } else { Ok(()) }
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    fn move_onto(&self, file: &Path, place: &Path) -> io::Result<()> {
        std::fs::rename(file, place)
    }

    fn move_to_new(&self, file: &Path, place: &Path) -> io::Result<()> {
        tempfile::TempPath::try_from_path(file)?.persist_noclobber(place).map_err(|fault| fault.error)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        std::fs::remove_file(file)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        File::open(folder)?.sync_all()
    }

    fn now(&self) -> Duration {
        std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default()
    }
}

/// A file of a random name, with this mode where the system knows modes.
fn create_with_mode(folder: &Path, mode: u32) -> io::Result<(File, PathBuf)> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(OWN_HEAD).suffix(PART_TAIL).rand_bytes(12).disable_cleanup(true);
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(mode));
    #[cfg(not(unix))]
    let _ = mode;
    let (file, path) = builder.tempfile_in(folder)?.into_parts();
    Ok((file, path.to_path_buf()))
}

/// Whether an opened folder still stands under its name.
#[cfg(unix)]
fn is_at(opened: &File, folder: &Path) -> bool {
    let which = |about: std::fs::Metadata| {
        let (device, number) =
            (std::os::unix::fs::MetadataExt::dev(&about), std::os::unix::fs::MetadataExt::ino(&about));
        (device, number)
    };
    let named = std::fs::metadata(folder).map(which);
    opened.metadata().map(which).is_ok_and(|opened| named.is_ok_and(|named| named == opened))
}

/// Nothing is locked elsewhere.
#[cfg(not(unix))]
const fn is_at(_: &File, _: &Path) -> bool {
    true
}

fn stands(kind: std::fs::FileType) -> Stands {
    match kind {
        kind if kind.is_file() => Stands::File,
        kind if kind.is_dir() => Stands::Folder,
        _ => Stands::Other,
    }
}

/// Why a file cannot be read.
pub fn refused(fault: &io::Error) -> ReadFault {
    #[cfg(unix)]
    if fault.raw_os_error() == Some(libc::ELOOP) {
        return ReadFault::NotAFile;
    }
    match fault.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => ReadFault::Missing,
        _ => ReadFault::Refused(fault.to_string()),
    }
}

/// All bytes of a plain file of at most `limit` bytes.
///
/// # Errors
/// When it is not one, or changed its length while it was read: half a file may read as a whole one that says something else.
pub fn read(calls: &dyn Calls, file: &Path, limit: u64) -> Result<Vec<u8>, ReadFault> {
    let opened = calls.open(file)?;
    if opened.size > limit {
        return Err(ReadFault::TooLarge(opened.size));
    }
    let mut bytes = Vec::with_capacity(usize::try_from(opened.size).unwrap_or_default());
    // One byte more than it held tells a file that grew.
    opened.bytes.take(opened.size.saturating_add(1)).read_to_end(&mut bytes).map_err(|fault| refused(&fault))?;
    if u64::try_from(bytes.len()) != Ok(opened.size) {
        return Err(ReadFault::Refused("it was changed while it was read; try again".to_owned()));
    }
    Ok(bytes)
}

/// SHA-256 of a plain file that holds exactly `size` bytes; none when it holds more or fewer, and then it is not read.
///
/// # Errors
/// When it cannot be read.
pub fn hash(calls: &dyn Calls, file: &Path, size: u64) -> Result<Option<String>, ReadFault> {
    let opened = calls.open(file)?;
    if opened.size != size || !caps::KIT_FILE.takes(size) {
        return Ok(None);
    }
    crate::ledger::sha256_of(opened.bytes.take(size)).map(Some).map_err(|fault| refused(&fault))
}

/// Said where nothing is found since the folder in which the program runs is no more.
pub const GONE: &str = "the folder that you stand in is gone; where a new edition took its place, enter it again";

/// Whether the folder in which the program runs is no more.
pub fn is_gone() -> bool {
    std::env::current_dir().is_err()
}

/// What the machine said, in our words where they are plainer.
pub fn cause(fault: &io::Error) -> String {
    match fault.kind() {
        ErrorKind::NotFound if is_gone() => GONE.to_owned(),
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        _ => fault.to_string(),
    }
}
