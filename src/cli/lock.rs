//! One build at a time in a folder.

use super::calls::Calls;
use super::part::failed;
use super::say;
use crate::ground::{Failure, without_controls};
use std::fs::File;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How long to sleep between two looks.
const STEP: Duration = Duration::from_millis(50);

/// A folder that is held; let go when it is dropped, and by the system when the program ends in any way. What was made to have it
/// goes again if it is still empty.
pub struct Lock<'a> {
    calls: &'a dyn Calls,
    /// None where the system has no locks.
    held: Option<File>,
    /// Folders that were made, the topmost last.
    made: Vec<PathBuf>,
}

impl Lock<'_> {
    /// Says that something stands in the folder now that is to stay.
    pub fn keep(&mut self) {
        self.made.clear();
    }

    /// Whether the folder that is held stands under this name; so it is said of one that the system cannot hold.
    pub fn is_at(&self, name: &Path) -> bool {
        self.held.as_ref().is_none_or(|held| self.calls.is_at(held, name))
    }
}

impl Drop for Lock<'_> {
    fn drop(&mut self) {
        for folder in &self.made {
            // In one that is not empty somebody is at work.
            let _ = self.calls.remove_folder(folder);
        }
    }
}

/// Locks a folder beside others who read it. Waits for a build for `patience` at most, and says so.
///
/// # Errors
/// When the folder cannot be opened, or a build still holds it.
pub fn beside_others<'a>(calls: &'a dyn Calls, folder: &Path, patience: Duration) -> Result<Lock<'a>, Failure> {
    wait(folder, patience, || {
        let held = calls.lock(folder, false).map_err(|fault| (fault.kind(), failed(folder, &fault)))?;
        Ok(Lock { calls, held, made: Vec::new() })
    })
}

/// Makes a folder where none is, and locks it to write there. Waits as above.
///
/// # Errors
/// When the folder cannot be made or opened, or another build still holds it.
pub fn alone<'a>(calls: &'a dyn Calls, folder: &Path, patience: Duration) -> Result<Lock<'a>, Failure> {
    wait(folder, patience, || {
        let made = calls.make_folder(folder).map_err(|fault| (ErrorKind::Other, unmade(folder, &fault)))?;
        let lock = |held| Lock { calls, held, made };
        match calls.lock(folder, true) {
            Ok(held) => Ok(lock(held)),
            Err(fault) => {
                // Whoever holds it may have nothing in it yet.
                if fault.kind() != ErrorKind::WouldBlock {
                    drop(lock(None));
                }
                Err((fault.kind(), failed(folder, &fault)))
            }
        }
    })
}

/// Tries until nobody else is in the way.
fn wait<'a>(
    folder: &Path,
    patience: Duration,
    lock: impl Fn() -> Result<Lock<'a>, (ErrorKind, Failure)>,
) -> Result<Lock<'a>, Failure> {
    let shown = without_controls(&folder.display().to_string());
    let mut waited = Duration::ZERO;
    loop {
        match lock() {
            Ok(lock) => {
                if lock.held.is_none() {
                    say::err(&format!(
                        "note: {shown} cannot be locked here; let no other build write to it meanwhile\n"
                    ));
                }
                return Ok(lock);
            }
            Err((ErrorKind::WouldBlock, _)) => {}
            Err((_, failure)) => return Err(failure),
        }
        if waited.is_zero() {
            let most = patience.as_secs();
            say::err(&format!(
                "{shown}: another run is at work in this folder; waiting for it, {most} seconds at most\n"
            ));
        }
        if waited >= patience {
            let why = "another run is still at work in this folder; wait for its end and type the same again";
            return Err(Failure::new(folder.display().to_string(), why));
        }
        std::thread::sleep(STEP);
        waited += STEP;
    }
}

/// Why a folder could not be made: where a file has its name, which name is free.
fn unmade(folder: &Path, fault: &io::Error) -> Failure {
    if !matches!(fault.kind(), ErrorKind::AlreadyExists | ErrorKind::NotADirectory) {
        return failed(folder, fault);
    }
    let free = folder.display().to_string();
    let why = format!(
        "a file stands where the folder should be; write another, such as `{}-kit`",
        free.trim_end_matches('/')
    );
    Failure::new(folder.display().to_string(), why)
}
