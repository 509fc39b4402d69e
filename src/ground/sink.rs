//! Where finished files go.

use super::Failure;

/// Takes finished files by name, from many threads at once. A name is one plain file name, without a folder.
pub trait Sink: Sync {
    /// A place for a file that is written while it is made.
    ///
    /// # Errors
    /// When the file cannot be taken: a folder that may not be written, a name that no file may have.
    fn open<'a>(&'a self, name: &str) -> Result<Box<dyn SinkFile + 'a>, Failure>;

    /// Takes one file as soon as it is finished. It takes its place later, when all are.
    ///
    /// # Errors
    /// As [`Sink::open`] and [`SinkFile`].
    fn put(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let mut file = self.open(name)?;
        file.write(bytes)?;
        file.finish()
    }
}

/// A file that is being written, by one thread or another. Nothing stays of one that is let go before it is finished.
pub trait SinkFile: Send {
    /// Writes behind what is there.
    ///
    /// # Errors
    /// When the machine refuses: a full disk.
    fn write(&mut self, bytes: &[u8]) -> Result<(), Failure>;

    /// Takes it among the files that are finished.
    ///
    /// # Errors
    /// When the machine refuses, or another file of this name is finished already.
    fn finish(self: Box<Self>) -> Result<(), Failure>;
}
