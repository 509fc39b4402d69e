//! One build at a time in a folder.

use super::calls::Calls;
use super::part::failed;
use super::say;
use crate::ground::{Failure, without_controls};
use std::fs::File;
use std::io::ErrorKind;
use std::path::Path;
use std::time::Duration;

/// How long to sleep between two looks.
const STEP: Duration = Duration::from_millis(50);

/// A folder that is held; let go when it is dropped, and by the system when the program ends in any way.
#[derive(Debug)]
pub struct Lock(#[expect(dead_code, reason = "held, never read")] Option<File>);

/// Locks a folder, alone to write or beside others to read. Waits for another build for `patience` at most, and says so.
///
/// # Errors
/// When the folder cannot be opened, or another build still holds it.
pub fn lock(calls: &dyn Calls, folder: &Path, is_alone: bool, patience: Duration) -> Result<Lock, Failure> {
    let shown = without_controls(&folder.display().to_string());
    let mut waited = Duration::ZERO;
    loop {
        match calls.lock(folder, is_alone) {
            Ok(Some(file)) => return Ok(Lock(Some(file))),
            Ok(None) => {
                say::err(&format!("note: {shown} cannot be locked here; let no other build write to it meanwhile\n"));
                return Ok(Lock(None));
            }
            Err(fault) if fault.kind() == ErrorKind::WouldBlock => {}
            Err(fault) => return Err(failed(folder, &fault)),
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
