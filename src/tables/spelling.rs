//! The spelling alphabet, and the letters of read-back codes.

use super::row::{Cite, Field, need, rows};
use crate::ground::{Findings, Span};
use crate::source::{Cell, Node};
use serde::Deserialize;
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

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenReadBack {
    letters: Field<String>,
    source: Field<String>,
    confidence: Field<String>,
}

impl Spelling {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let (letters, cite) = words(root, "letters", found);
        let (figures, _) = words(root, "figures", found);
        let mut read_back = Vec::new();
        for (written, span) in rows::<WrittenReadBack>(root, "read-back", found) {
            Cite::read(written.source, written.confidence, span, found);
            read_back = need(written.letters, "letters", span, found)
                .map(|text| text.value.chars().collect())
                .unwrap_or_default();
        }
        let nowhere = Cite { source: String::new(), confidence: String::new(), span: Span::NOWHERE };
        Self { letters, figures, read_back, cite: cite.unwrap_or(nowhere) }
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
    for (mut written, span) in rows::<BTreeMap<String, Cell<String>>>(root, key, found) {
        cite = Cite::read(written.remove("source"), written.remove("confidence"), span, found);
        for (letter, word) in written {
            if let (Some(letter), Some(word)) = (letter.chars().next(), word.value) {
                words.insert(letter, word);
            }
        }
    }
    (words, cite)
}
