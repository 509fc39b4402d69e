//! What the program may ask of the machine: files, a list of them, today's date.

use std::collections::BTreeMap;
use std::fmt;

/// The machine as every floor but cli sees it. Paths are relative to the plan's folder, with `/` between their parts.
pub trait World: Sync {
    /// The bytes of a file of the plan's folder.
    ///
    /// # Errors
    /// When it is missing, is no file, is larger than `limit` bytes, leads out of the folder, or cannot be read.
    fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault>;

    /// The path at which a file of the plan's folder truly stands: the same for all names and links that lead to it.
    ///
    /// # Errors
    /// When it is missing or leads out of the folder.
    fn place_of(&self, path: &str) -> Result<String, ReadFault> {
        Ok(path.split('/').filter(|part| *part != ".").collect::<Vec<_>>().join("/"))
    }

    /// All files of the plan's folder and below it, sorted; hidden ones and links left out.
    ///
    /// # Errors
    /// When the folder cannot be listed.
    fn list(&self) -> Result<Vec<String>, Failure>;

    /// Today's date, for notes on the terminal alone: nothing printed on paper may depend on it.
    fn today(&self) -> chrono::NaiveDate;
}

/// A world of files that are held in memory. Without any it is enough for what comes with the program.
#[derive(Clone, Default, Debug)]
pub struct MemoryWorld(pub BTreeMap<String, String>);

impl World for MemoryWorld {
    fn read(&self, path: &str, _: u64) -> Result<Vec<u8>, ReadFault> {
        self.0.get(path).map(|text| text.clone().into_bytes()).ok_or(ReadFault::Missing)
    }

    fn list(&self) -> Result<Vec<String>, Failure> {
        Ok(self.0.keys().cloned().collect())
    }

    fn today(&self) -> chrono::NaiveDate {
        chrono::NaiveDate::default()
    }
}

/// Why a file could not be read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ReadFault {
    /// There is no such file.
    Missing,
    /// It is a folder or a device.
    NotAFile,
    /// It holds this many bytes, more than the limit.
    TooLarge(u64),
    /// Its path, or a link on it, leads out of the plan's folder.
    OutsideFolder,
    /// The machine refused.
    Refused(String),
}

impl fmt::Display for ReadFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str("is not there"),
            Self::NotAFile => f.write_str("is not a file"),
            Self::TooLarge(size) => write!(f, "holds {size} bytes, too many"),
            Self::OutsideFolder => f.write_str("lies outside the plan's folder"),
            Self::Refused(cause) => f.write_str(cause),
        }
    }
}

/// The world's fault: an unreadable file, a full disk. Exit code 2.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Failure {
    /// The file or folder.
    pub path: String,
    /// What went wrong.
    pub cause: String,
}

impl Failure {
    /// A failure of `path`.
    #[must_use]
    pub fn new(path: impl Into<String>, cause: impl Into<String>) -> Self {
        Self { path: path.into(), cause: cause.into() }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.cause)
    }
}
