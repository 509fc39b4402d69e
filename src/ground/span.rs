//! Where a value was written.

/// A file of this run, in the order in which files were first read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct FileId(pub u32);

impl FileId {
    /// The number of the first of the program's own files: no file of a run has it, or a greater one.
    pub(super) const OWN: u32 = 1 << 31;

    /// The number of the nth of the program's own files.
    #[must_use]
    pub const fn of_program(n: u32) -> Self {
        Self(Self::OWN.saturating_add(n))
    }
}

/// A stretch of bytes in one file; `start..end`, in bytes from the file's first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Default for Span {
    fn default() -> Self {
        Self::NOWHERE
    }
}

impl Span {
    /// For text that no file holds: built-in forms and the program's own words.
    pub const NOWHERE: Self = Self { file: FileId(u32::MAX), start: 0, end: 0 };

    /// A span of `file`; offsets past 4 GiB are cut to it, which the size limit of a file rules out.
    #[must_use]
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        let cut = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Self { file, start: cut(start), end: cut(end) }
    }

    /// Whether some file holds this text.
    #[must_use]
    pub fn is_somewhere(self) -> bool {
        self != Self::NOWHERE
    }
}

/// A value and the place where it was written.
///
/// Reads like the value through `Deref`. Two are equal when their values are: the place is not content.
#[derive(Clone, Copy, Debug)]
pub struct At<T> {
    /// The value as meant.
    pub value: T,
    /// Where it was written, or the record that implied it.
    pub span: Span,
}

impl<T> At<T> {
    /// A value with its place.
    pub const fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// Another value that stands at the same place.
    pub fn with<U>(&self, value: U) -> At<U> {
        At { value, span: self.span }
    }
}

impl<T> std::ops::Deref for At<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

impl<T: PartialEq> PartialEq for At<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: Eq> Eq for At<T> {}
