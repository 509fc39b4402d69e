//! Where finished files go.

use super::Failure;

/// Takes finished files by name, from many threads at once. A name is one plain file name, without a folder.
pub trait Sink: Sync {
    /// Takes one file as soon as it is finished. It takes its place later, when all are.
    ///
    /// # Errors
    /// When the file cannot be taken: a full disk, a folder that may not be written, a name that a file has already.
    fn put(&self, name: &str, bytes: &[u8]) -> Result<(), Failure>;
}
