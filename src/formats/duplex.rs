//! How a sheet is turned between its sides.

/// How a sheet is turned between its sides.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Duplex {
    /// One side only.
    Simplex,
    /// About its longer edge, like an upright book.
    LongEdge,
    /// About its shorter edge, like an upright pad.
    ShortEdge,
}

impl Duplex {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::Simplex, Self::LongEdge, Self::ShortEdge];

    /// As layouts write it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Simplex => "none",
            Self::LongEdge => "long-edge",
            Self::ShortEdge => "short-edge",
        }
    }

    /// The way of this word.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|duplex| duplex.word() == word)
    }
}
