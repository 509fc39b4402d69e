//! Where finished files go.

use super::Failure;

/// Takes finished files by name. A name is one plain file name, without a folder.
pub trait Sink {
    /// Takes one file. The order of calls is the order in which files come to stand; the manifest is put last.
    ///
    /// # Errors
    /// When the file cannot be taken: a full disk, a folder that may not be written, a name that a file has already.
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure>;
}
