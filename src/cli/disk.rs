//! A plan's folder on disk. Nothing outside it is read.
#![expect(clippy::disallowed_methods, reason = "this is the one place that reads the disk and the clock")]

use crate::ground::{Failure, ReadFault, World};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Most files and folders that [`World::list`] looks at: a plan has tens, and a wrong folder, such as a whole home, is told apart.
pub const ENTRIES_LIMIT: usize = 10_000;

/// The name of a plan's root file.
pub const ROOT: &str = "plan.toml";

/// A plan's folder, confined: names and links that lead out of it are refused.
pub struct DiskWorld {
    folder: PathBuf,
}

impl DiskWorld {
    /// Opens what a command names: a plan's folder, or its root file. Gives the name of the root file too.
    ///
    /// # Errors
    /// When there is neither.
    pub fn open(plan: &Path) -> Result<(Self, String), Failure> {
        let fail = |cause: String| Failure::new(plan.display().to_string(), cause);
        let about = std::fs::metadata(plan).map_err(|fault| fail(cause(&fault)))?;
        let (folder, root) = if about.is_dir() {
            (plan.to_owned(), ROOT.to_owned())
        } else {
            let name = plan.file_name().and_then(|name| name.to_str());
            let name = name.ok_or_else(|| fail("its name is not UTF-8 text".to_owned()))?;
            let above = plan.parent().filter(|above| !above.as_os_str().is_empty());
            (above.unwrap_or(Path::new(".")).to_owned(), name.to_owned())
        };
        let folder = std::fs::canonicalize(&folder).map_err(|fault| fail(cause(&fault)))?;
        Ok((Self { folder }, root))
    }
}

/// What the machine said, in our words where they are plainer.
pub fn cause(fault: &std::io::Error) -> String {
    match fault.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        _ => fault.to_string(),
    }
}

impl World for DiskWorld {
    fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault> {
        let is_plain = |part: &str| !matches!(part, "" | "..");
        if path.contains(['\\', '\0']) || !path.split('/').all(is_plain) {
            return Err(ReadFault::OutsideFolder);
        }
        let whole = std::fs::canonicalize(self.folder.join(path)).map_err(|fault| refused(&fault))?;
        if !whole.starts_with(&self.folder) {
            return Err(ReadFault::OutsideFolder);
        }
        let about = std::fs::metadata(&whole).map_err(|fault| refused(&fault))?;
        if !about.is_file() {
            return Err(ReadFault::NotAFile);
        }
        if about.len() > limit {
            return Err(ReadFault::TooLarge(about.len()));
        }
        let file = std::fs::File::open(&whole).map_err(|fault| refused(&fault))?;
        let mut bytes = Vec::new();
        // One byte more than allowed tells a file that grew since it was measured.
        file.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(|fault| refused(&fault))?;
        let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        if size > limit { Err(ReadFault::TooLarge(size)) } else { Ok(bytes) }
    }

    fn list(&self) -> Result<Vec<String>, Failure> {
        let mut names = Vec::new();
        let mut seen = 0;
        let mut folders = vec![String::new()];
        while let Some(folder) = folders.pop() {
            let fail = |fault: std::io::Error| Failure::new(format!("./{folder}"), cause(&fault));
            for entry in std::fs::read_dir(self.folder.join(&folder)).map_err(fail)? {
                let entry = entry.map_err(fail)?;
                seen += 1;
                if seen > ENTRIES_LIMIT {
                    let what = format!("the plan's folder holds more than {ENTRIES_LIMIT} files and folders");
                    return Err(Failure::new(self.folder.display().to_string(), what));
                }
                // A name that is not UTF-8 cannot be written in a plan, so no pattern means it.
                let Ok(name) = entry.file_name().into_string() else { continue };
                if name.starts_with('.') {
                    continue;
                }
                let kind = entry.file_type().map_err(fail)?;
                let path = if folder.is_empty() { name } else { format!("{folder}/{name}") };
                if kind.is_dir() {
                    folders.push(path);
                } else if kind.is_file() {
                    names.push(path);
                }
            }
        }
        names.sort();
        Ok(names)
    }

    fn today(&self) -> chrono::NaiveDate {
        // In UTC; a clock before 1970 counts as its first day.
        let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
        let days = chrono::Days::new(since.as_secs() / 86_400);
        chrono::NaiveDate::default().checked_add_days(days).unwrap_or_default()
    }
}

fn refused(fault: &std::io::Error) -> ReadFault {
    match fault.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => ReadFault::Missing,
        _ => ReadFault::Refused(fault.to_string()),
    }
}
