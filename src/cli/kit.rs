//! A kit into its folder.

use super::folder_sink::FolderSink;
use crate::ground::{Failure, Sink};
use crate::ledger::{Kit, MANIFEST, Manifest};
use std::path::Path;

/// Writes a kit into a folder: all of it, or nothing and the folder as it was.
///
/// # Errors
/// When the folder cannot be written, or holds a file that this program did not write.
pub fn write(kit: &Kit, folder: &Path) -> Result<(), Failure> {
    let names: Vec<String> = kit.files.iter().map(|file| file.name.clone()).chain([MANIFEST.to_owned()]).collect();
    let mut sink = FolderSink::open(folder, &names)?;
    put(kit, &mut sink)?;
    sink.finish()
}

/// Puts all files of a kit, the manifest last.
///
/// # Errors
/// At the first file that the sink does not take.
pub fn put(kit: &Kit, sink: &mut dyn Sink) -> Result<(), Failure> {
    for file in &kit.files {
        sink.put(&file.name, &file.bytes)?;
    }
    sink.put(MANIFEST, Manifest::of(kit).to_text().as_bytes())
}
