//! What a front says, and lists of words with what they mean.

use super::{ReadBack, Text};

/// The front of a card: what it is, which edition, the code that two stations compare first, and whose it is.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Front {
    /// The plan's short name.
    pub name: Text,
    /// `edition 7`.
    pub edition: Text,
    /// The plan's whole title.
    pub title: Text,
    /// From when to when it holds.
    pub dates: Text,
    /// What to do with the code.
    pub read_first: Text,
    /// The code to read back; the edition floor fills it in.
    pub code: Option<ReadBack>,
    /// Whose it is.
    pub holder: Text,
    /// Beside the holder, as a class.
    pub beside: Text,
    /// What holds for whoever holds it, a paragraph each.
    pub lines: Vec<Text>,
}

/// Words with what they mean.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct WordList {
    /// Side by side where there is room.
    pub columns: Vec<Vec<WordEntry>>,
}

/// A word with what it means.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct WordEntry {
    /// The word that one looks up.
    pub word: Text,
    /// What it means.
    pub meaning: Text,
}

impl WordList {
    /// One below the other.
    #[must_use]
    pub fn listed(pairs: impl IntoIterator<Item = (Text, Text)>) -> Self {
        Self { columns: vec![pairs.into_iter().map(|(word, meaning)| WordEntry { word, meaning }).collect()] }
    }
}
