//! The glyphs that a file uses.

use super::readings::Readings;
use crate::sheet::{Face, Glyph, Mark};
use std::collections::BTreeMap;

/// Glyphs of all faces.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Used(BTreeMap<Face, UsedGlyphs>);

/// Glyphs of one face.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub(super) struct UsedGlyphs {
    /// A bit for each.
    bits: Vec<u64>,
    /// What those read as that stand for no one letter: the least of their texts, so that order changes nothing.
    texts: BTreeMap<u16, String>,
}

const BITS: usize = 64;

impl UsedGlyphs {
    /// Adds one.
    pub fn add(&mut self, glyph: u16) {
        let (word, bit) = (usize::from(glyph) / BITS, usize::from(glyph) % BITS);
        if self.bits.len() <= word {
            self.bits.resize(word + 1, 0);
        }
        if let Some(word) = self.bits.get_mut(word) {
            *word |= 1 << bit;
        }
    }

    /// All, by their numbers.
    pub fn ids(&self) -> impl Iterator<Item = u16> + '_ {
        let of_word = |(place, word): (usize, &u64)| {
            let word = *word;
            (0..BITS).filter(move |bit| word >> bit & 1 == 1).map(move |bit| place * BITS + bit)
        };
        self.bits.iter().enumerate().flat_map(of_word).filter_map(|id| u16::try_from(id).ok())
    }

    /// What a glyph reads as that stands for no one letter.
    pub fn text(&self, glyph: u16) -> &str {
        self.texts.get(&glyph).map(String::as_str).unwrap_or_default()
    }

    fn take_text(&mut self, glyph: u16, text: &str) {
        match self.texts.get_mut(&glyph) {
            Some(known) if !text.is_empty() && (known.is_empty() || text < known.as_str()) => {
                text.clone_into(known);
            }
            Some(_) => {}
            None => _ = self.texts.insert(glyph, text.to_owned()),
        }
    }
}

impl Used {
    /// The glyphs of marks.
    pub fn of<'a>(marks: impl Iterator<Item = &'a Mark>, readings: &Readings) -> Self {
        let mut used = Self::default();
        used.add(marks, readings);
        used
    }

    /// Adds the glyphs of marks, and the space of their faces, which may stand where a run goes on.
    pub fn add<'a>(&mut self, marks: impl Iterator<Item = &'a Mark>, readings: &Readings) {
        for mark in marks {
            let Mark::Glyphs(run) = mark else { continue };
            for glyphs in run.glyphs.chunk_by(|a, b| a.face == b.face) {
                let face = glyphs.first().map_or(run.face, |glyph| glyph.face);
                let known = self.0.entry(face).or_default();
                readings.space(face).into_iter().for_each(|space| known.add(space));
                for Glyph { id, .. } in glyphs {
                    known.add(*id);
                }
                let is_own = |glyph: &&Glyph| {
                    readings.letter(face, glyph.id).is_none() && readings.form(face, glyph.id).is_none()
                };
                for glyph in glyphs.iter().filter(is_own) {
                    known.take_text(glyph.id, glyph.of(&run.text));
                }
            }
            if let (Some(space), false) = (readings.space(run.face), run.glyphs.is_empty()) {
                self.0.entry(run.face).or_default().add(space);
            }
        }
    }

    /// Adds what others use.
    pub fn join(&mut self, other: &Self) {
        for (face, glyphs) in &other.0 {
            let known = self.0.entry(*face).or_default();
            if known.bits.len() < glyphs.bits.len() {
                known.bits.resize(glyphs.bits.len(), 0);
            }
            known.bits.iter_mut().zip(&glyphs.bits).for_each(|(known, more)| *known |= more);
            glyphs.texts.iter().for_each(|(glyph, text)| known.take_text(*glyph, text));
        }
    }

    /// The faces in use with their glyphs.
    pub fn faces(&self) -> impl Iterator<Item = (Face, &UsedGlyphs)> {
        self.0.iter().map(|(face, glyphs)| (*face, glyphs))
    }
}
