//! The spelling alphabet, and the letters of read-back codes.

use super::row::{Cite, WrittenCite, free_row, nodes, row, rows};
use crate::ground::{At, Findings};
use crate::source::{Meant, Node, record};
use std::collections::BTreeMap;

/// How letters and figures are said, and which letters make a read-back code.
#[derive(Clone, Debug)]
pub struct Spelling {
    letters: BTreeMap<char, String>,
    figures: BTreeMap<char, String>,
    read_back: Vec<char>,
    /// Where the letters' words are from.
    pub cite: Cite,
}

record! {
    /// The letters of read-back codes.
    pub struct CodeLetters = "row of a table" {
        /// All of them.
        letters: String,
        /// Where from.
        _cite: Cite,
    }
}

impl Spelling {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let (letters, cite) = words(root, "letters", found);
        let (figures, _) = words(root, "figures", found);
        let read_back = rows::<CodeLetters>(root, "read-back", found)
            .into_iter()
            .flat_map(|row| row.letters.chars().collect::<Vec<_>>());
        Self { letters, figures, read_back: read_back.collect(), cite: cite.unwrap_or(Cite::nowhere()) }
    }

    /// The word for a letter or figure; the character itself where there is none.
    #[must_use]
    pub fn word(&self, character: char) -> String {
        let known = self.letters.get(&character).or_else(|| self.figures.get(&character));
        known.cloned().unwrap_or_else(|| character.to_string())
    }

    /// Letters and their words, A to Z.
    pub fn letters(&self) -> impl Iterator<Item = (char, &str)> {
        self.letters.iter().map(|(letter, word)| (*letter, word.as_str()))
    }

    /// Figures and their words, 0 to 9.
    pub fn figures(&self) -> impl Iterator<Item = (char, &str)> {
        self.figures.iter().map(|(figure, word)| (*figure, word.as_str()))
    }

    /// The letters of a read-back code; sixteen in the built-in table.
    #[must_use]
    pub fn read_back_letters(&self) -> &[char] {
        &self.read_back
    }
}

fn words(root: &Node, key: &str, found: &mut Findings) -> (BTreeMap<char, String>, Option<Cite>) {
    let mut words = BTreeMap::new();
    let mut cite = None;
    for node in nodes(root, key) {
        let mut written = free_row::<BTreeMap<String, At<String>>>(node, found).unwrap_or_default();
        let mut taken = |key| written.remove(key).map(|text| text.value);
        let from = WrittenCite { source: taken("source"), confidence: taken("confidence") };
        cite = row(node, found, |of| Cite::mean(from, of));
        for (letter, word) in written {
            words.extend(letter.chars().next().map(|letter| (letter, word.value)));
        }
    }
    (words, cite)
}
