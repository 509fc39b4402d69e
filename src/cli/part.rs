//! The one writer of files: whole under a random name first, then moved to their places. Nothing is ever written through a link,
//! and nobody's file is written over.

use super::calls::{Calls, Stands, cause};
use crate::ground::Failure;
use std::fs::File;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// A whole file beside the place that it will take; removed when it is dropped before.
pub struct Part<'a> {
    calls: &'a dyn Calls,
    path: PathBuf,
    is_moved: bool,
}

impl<'a> Part<'a> {
    /// Writes a file into a folder, with the mode of the one that it will replace.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn write(calls: &'a dyn Calls, folder: &Path, bytes: &[u8], replaced: Option<&Path>) -> io::Result<Self> {
        OpenPart::new(calls, folder, replaced)?.whole(bytes)
    }

    /// Writes a file into a folder that nobody but the user may read.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn write_closed(calls: &'a dyn Calls, folder: &Path, bytes: &[u8]) -> io::Result<Self> {
        OpenPart::of(calls, calls.create_closed(folder)?, None)?.whole(bytes)
    }

    /// Takes a place, whatever stands there.
    ///
    /// # Errors
    /// When the machine refuses; the part is then gone.
    pub fn onto(mut self, place: &Path) -> io::Result<()> {
        self.calls.move_onto(&self.path, place)?;
        self.is_moved = true;
        Ok(())
    }

    /// Waits under another name, in a folder of the same disk.
    ///
    /// # Errors
    /// When the machine refuses; it then waits where it did.
    pub fn wait_as(&mut self, name: &Path) -> io::Result<()> {
        self.calls.move_onto(&self.path, name)?;
        name.clone_into(&mut self.path);
        Ok(())
    }

    /// Says that it stands in its place: the folder in which it waited took another's.
    pub const fn settle(&mut self) {
        self.is_moved = true;
    }

    fn into_new(mut self, place: &Path) -> io::Result<()> {
        self.calls.move_to_new(&self.path, place)?;
        self.is_moved = true;
        Ok(())
    }
}

/// A part that is still being written.
pub struct OpenPart<'a> {
    file: File,
    part: Part<'a>,
}

impl<'a> OpenPart<'a> {
    /// Begins a file in a folder, with the mode of the one that it will replace.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn new(calls: &'a dyn Calls, folder: &Path, replaced: Option<&Path>) -> io::Result<Self> {
        Self::of(calls, calls.create(folder)?, replaced)
    }

    fn of(calls: &'a dyn Calls, (file, path): (File, PathBuf), replaced: Option<&Path>) -> io::Result<Self> {
        let part = Part { calls, path, is_moved: false };
        match replaced.map(|replaced| calls.mode_of(replaced, &file)) {
            // Somebody took it away meanwhile.
            Some(Err(fault)) if fault.kind() == ErrorKind::NotFound => {}
            Some(Err(fault)) => return Err(fault),
            Some(Ok(())) | None => {}
        }
        Ok(Self { file, part })
    }

    /// Writes behind what is there.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.part.calls.write(&mut self.file, bytes)
    }

    /// The whole file, safe on the disk.
    ///
    /// # Errors
    /// When the machine refuses.
    pub fn finish(self) -> io::Result<Part<'a>> {
        self.part.calls.sync(&self.file)?;
        Ok(self.part)
    }

    fn whole(mut self, bytes: &[u8]) -> io::Result<Part<'a>> {
        self.write(bytes)?;
        self.finish()
    }
}

impl Drop for Part<'_> {
    fn drop(&mut self) {
        if !self.is_moved {
            // What cannot be removed now is hidden, and harms nobody.
            let _ = self.calls.remove(&self.path);
        }
    }
}

/// Writes a file where none is.
///
/// # Errors
/// When something stands there, or the machine refuses.
pub fn create(calls: &dyn Calls, place: &Path, bytes: &[u8], help: &str) -> Result<(), Failure> {
    let part = Part::write(calls, folder_of(place), bytes, None).map_err(|fault| failed(place, &fault))?;
    into_new(part, place, help)
}

/// Writes a file that nobody but the user may read, where none is.
///
/// # Errors
/// As [`create`].
pub fn create_closed(calls: &dyn Calls, place: &Path, bytes: &[u8], help: &str) -> Result<(), Failure> {
    let part = Part::write_closed(calls, folder_of(place), bytes).map_err(|fault| failed(place, &fault))?;
    into_new(part, place, help)
}

fn into_new(part: Part<'_>, place: &Path, help: &str) -> Result<(), Failure> {
    let (calls, folder) = (part.calls, folder_of(place));
    part.into_new(place).map_err(|fault| match fault.kind() {
        ErrorKind::AlreadyExists => {
            Failure::new(place.display().to_string(), format!("a file of this name is there already; {help}"))
        }
        _ => failed(place, &fault),
    })?;
    // Not every system can do it for a folder.
    let _ = calls.sync_folder(folder);
    Ok(())
}

/// Writes files over those that are there: all are whole on the disk before the first takes its place. A link keeps leading to
/// its file, and that is replaced.
///
/// # Errors
/// When one of them is no plain file, or the machine refuses.
pub fn replace(calls: &dyn Calls, files: &[(PathBuf, Vec<u8>)]) -> Result<(), Failure> {
    let mut parts = Vec::new();
    for (place, bytes) in files {
        let fail = |fault: io::Error| failed(place, &fault);
        let whole = calls.resolve(place).map_err(fail)?;
        if calls.at(&whole).map_err(fail)? != Stands::File {
            return Err(Failure::new(place.display().to_string(), "this is not a file, and nothing is written to it"));
        }
        let part = Part::write(calls, folder_of(&whole), bytes, Some(&whole)).map_err(fail)?;
        parts.push((part, whole));
    }
    for (part, place) in parts {
        part.onto(&place).map_err(|fault| failed(&place, &fault))?;
        let _ = calls.sync_folder(folder_of(&place));
    }
    Ok(())
}

fn folder_of(place: &Path) -> &Path {
    place.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// A failure of a path, by what the machine said.
pub fn failed(path: &Path, fault: &io::Error) -> Failure {
    Failure::new(path.display().to_string(), cause(fault))
}
