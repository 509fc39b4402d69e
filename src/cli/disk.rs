//! A plan's folder on disk. Nothing outside it is read.

use super::calls::{Calls, Machine, Stands, cause, read, refused};
use crate::ground::{Failure, ReadFault, World, caps};
use crate::ledger::{MANIFEST, MANIFEST_HEAD};
use std::io::Read;
use std::path::{Path, PathBuf};

/// The name of a plan's root file.
pub const ROOT: &str = "plan.toml";

/// A plan's folder, confined: names and links that lead out of it are refused.
pub struct DiskWorld<'a> {
    calls: &'a dyn Calls,
    folder: PathBuf,
}

impl DiskWorld<'static> {
    /// Opens what a command names: a plan's folder, or its root file. Gives the name of the root file too.
    ///
    /// # Errors
    /// When there is neither.
    pub fn open(plan: &Path) -> Result<(Self, String), Failure> {
        DiskWorld::through(&Machine, plan)
    }
}

impl<'a> DiskWorld<'a> {
    /// As [`DiskWorld::open`], through these calls.
    ///
    /// # Errors
    /// When there is neither.
    pub fn through(calls: &'a dyn Calls, plan: &Path) -> Result<(Self, String), Failure> {
        let fail = |cause: String| Failure::new(plan.display().to_string(), cause);
        let (folder, root) = if calls.at(plan).map_err(|fault| fail(cause(&fault)))? == Stands::Folder {
            (plan.to_owned(), ROOT.to_owned())
        } else {
            let name = plan.file_name().and_then(|name| name.to_str());
            let name = name.ok_or_else(|| fail("its name is not UTF-8 text".to_owned()))?;
            let above = plan.parent().filter(|above| !above.as_os_str().is_empty());
            (above.unwrap_or(Path::new(".")).to_owned(), name.to_owned())
        };
        let folder = calls.resolve(&folder).map_err(|fault| fail(cause(&fault)))?;
        Ok((Self { calls, folder }, root))
    }

    /// Where a file of the plan stands, links on the way followed.
    ///
    /// # Errors
    /// When it is missing or leads out of the folder.
    pub fn place(&self, path: &str) -> Result<PathBuf, ReadFault> {
        let is_plain = |part: &str| !matches!(part, "" | "..");
        if path.contains(['\\', '\0']) || !path.split('/').all(is_plain) {
            return Err(ReadFault::OutsideFolder);
        }
        let whole = self.calls.resolve(&self.folder.join(path)).map_err(|fault| refused(&fault))?;
        if whole.starts_with(&self.folder) { Ok(whole) } else { Err(ReadFault::OutsideFolder) }
    }

    /// Today by these calls' clock, in UTC; a clock before 1970 counts as its first day.
    pub fn today_by(calls: &dyn Calls) -> chrono::NaiveDate {
        let days = chrono::Days::new(calls.now().as_secs() / 86_400);
        chrono::NaiveDate::default().checked_add_days(days).unwrap_or_default()
    }

    /// Whether a folder is what a build wrote: a kit inside a plan's folder is no part of the plan.
    fn is_kit(&self, folder: &Path) -> bool {
        let Ok(opened) = self.calls.open(&folder.join(MANIFEST)) else { return false };
        let mut head = Vec::new();
        let most = u64::try_from(MANIFEST_HEAD.len()).unwrap_or(u64::MAX);
        opened.bytes.take(most).read_to_end(&mut head).is_ok() && head == MANIFEST_HEAD.as_bytes()
    }
}

impl World for DiskWorld<'_> {
    fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault> {
        read(self.calls, &self.place(path)?, limit)
    }

    fn place_of(&self, path: &str) -> Result<String, ReadFault> {
        let whole = self.place(path)?;
        Ok(whole.strip_prefix(&self.folder).unwrap_or(&whole).to_string_lossy().into_owned())
    }

    fn list(&self) -> Result<Vec<String>, Failure> {
        let mut names = Vec::new();
        let mut left = caps::PLAN_ENTRIES.most;
        let mut folders = vec![String::new()];
        while let Some(folder) = folders.pop() {
            let fail = |fault: std::io::Error| Failure::new(format!("./{folder}"), cause(&fault));
            let whole = self.folder.join(&folder);
            if !folder.is_empty() && self.is_kit(&whole) {
                continue;
            }
            let entries = self.calls.entries(&whole, left).map_err(fail)?;
            let Some(rest) = left.checked_sub(u64::try_from(entries.len()).unwrap_or(u64::MAX)) else {
                let most = caps::PLAN_ENTRIES.most;
                let what = format!("the plan's folder holds more than {most} files and folders");
                return Err(Failure::new(self.folder.display().to_string(), what));
            };
            left = rest;
            for (name, stands) in entries {
                // A name that is not UTF-8 cannot be written in a plan, so no pattern means it.
                let Ok(name) = name.into_string() else { continue };
                if name.starts_with('.') {
                    continue;
                }
                let path = if folder.is_empty() { name } else { format!("{folder}/{name}") };
                match stands {
                    Stands::Folder => folders.push(path),
                    Stands::File => names.push(path),
                    Stands::Other => {}
                }
            }
        }
        names.sort();
        Ok(names)
    }

    fn today(&self) -> chrono::NaiveDate {
        Self::today_by(self.calls)
    }
}
