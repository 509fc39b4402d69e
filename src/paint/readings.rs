//! What the glyphs of the built-in faces read as, and how wide they are. The codes on a page are the glyphs' numbers in the whole
//! face, and what is spelled out beside them depends on nothing else in the file: what is painted once stands in any file.

use super::sfnt::Sfnt;
use crate::ground::Bug;
use crate::sheet::{Face, Glyph, Glyphs};
use std::collections::BTreeMap;
use std::sync::OnceLock;
use unicode_normalization::UnicodeNormalization;

/// All faces.
pub(super) struct Readings(BTreeMap<Face, FaceReadings>);

/// One face.
pub(super) struct FaceReadings {
    pub sfnt: Sfnt<'static>,
    /// By glyph: the letter that it stands for wherever it does, the least of several.
    letters: Vec<Option<char>>,
    /// By glyph: the letters that one stands for which has no letter but a presentation form, as a ligature has.
    forms: BTreeMap<u16, String>,
    /// By glyph.
    advances: Vec<u16>,
    space: Option<u16>,
}

impl Readings {
    /// Of the built-in faces: read once.
    pub fn built_in() -> Result<&'static Self, Bug> {
        static READINGS: OnceLock<Result<Readings, Bug>> = OnceLock::new();
        READINGS.get_or_init(Self::new).as_ref().map_err(Clone::clone)
    }

    fn new() -> Result<Self, Bug> {
        let read = |face: Face| {
            let sfnt = Sfnt::read(face.bytes()).ok_or_else(|| Bug::new("a built-in font cannot be read"))?;
            let advances = sfnt.advances();
            let (mut letters, mut forms) = (vec![None; advances.len()], BTreeMap::new());
            for (letter, glyph) in sfnt.letters() {
                match letters.get_mut(usize::from(glyph)) {
                    Some(None) if is_form(letter) => _ = forms.entry(glyph).or_insert_with(|| letter.nfkc().collect()),
                    Some(known @ None) => *known = Some(letter),
                    _ => {}
                }
            }
            // A glyph that is another shape of one letter reads as that, and so does a shape of the shape.
            for (of, glyph) in sfnt.variants.iter().chain(&sfnt.variants) {
                let letter = letters.get(usize::from(*of)).copied().flatten();
                if let (Some(letter), Some(known @ None)) = (letter, letters.get_mut(usize::from(*glyph))) {
                    *known = Some(letter);
                }
            }
            let space = letters.iter().position(|letter| *letter == Some(' '));
            let space = space.and_then(|space| u16::try_from(space).ok());
            Ok((face, FaceReadings { sfnt, letters, forms, advances, space }))
        };
        Ok(Self(Face::ALL.into_iter().map(read).collect::<Result<_, Bug>>()?))
    }

    /// One face.
    pub fn face(&self, face: Face) -> Option<&FaceReadings> {
        self.0.get(&face)
    }

    /// The letter that a glyph stands for wherever it does.
    pub fn letter(&self, face: Face, glyph: u16) -> Option<char> {
        self.0.get(&face)?.letters.get(usize::from(glyph)).copied().flatten()
    }

    /// The letters that a glyph stands for wherever it does, where it has no letter of its own.
    pub fn form(&self, face: Face, glyph: u16) -> Option<&str> {
        self.0.get(&face)?.forms.get(&glyph).map(String::as_str)
    }

    /// Whether a glyph reads as a text by itself.
    pub fn reads_as(&self, glyph: &Glyph, text: &str) -> bool {
        match self.letter(glyph.face, glyph.id) {
            Some(letter) => text.strip_prefix(letter) == Some(""),
            None => self.form(glyph.face, glyph.id) == Some(text),
        }
    }

    /// The glyph of the space.
    pub fn space(&self, face: Face) -> Option<u16> {
        self.0.get(&face)?.space
    }

    /// The advance that a file declares for a glyph, in font units.
    pub fn advance(&self, face: Face, glyph: u16) -> i32 {
        let advances = self.0.get(&face).map(|face| face.advances.as_slice()).unwrap_or_default();
        advances.get(usize::from(glyph)).map_or(0, |advance| i32::from(*advance))
    }

    /// Whether a reader gets exactly the run's text from the codes alone.
    pub fn reads(&self, run: &Glyphs) -> bool {
        // As they are seen is as they are read, unless a glyph stands before one that is read earlier.
        let mut end = 0;
        let mut in_order = |glyph: &Glyph| {
            let is_next = glyph.at == end;
            end = glyph.at.saturating_add(u32::from(glyph.length));
            is_next
        };
        run.glyphs.iter().all(|glyph| in_order(glyph) && self.reads_as(glyph, glyph.of(&run.text)))
            && usize::try_from(end) == Ok(run.text.len())
    }
}

/// Whether a letter is but a form of others: a ligature, or an Arabic letter as it stands inside a word.
const fn is_form(letter: char) -> bool {
    matches!(letter, '\u{FB00}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFF}')
}

#[cfg(test)]
mod tests {
    use super::Readings;
    use crate::sheet::Face;

    /// What a face has of a letter by itself reads as that letter; of two letters with one glyph, as the lesser one.
    #[test]
    fn a_glyph_reads_as_the_least_of_its_letters() {
        let readings = Readings::built_in().unwrap();
        let regular = readings.face(Face::Regular).unwrap();
        let glyph = |letter: char| regular.sfnt.letters().find(|(known, _)| *known == letter).unwrap().1;
        for letter in ['A', 'z', '-', 'é', 'Ж', 'Ω'] {
            assert_eq!(readings.letter(Face::Regular, glyph(letter)), Some(letter));
        }
        assert_eq!(readings.space(Face::Regular), Some(glyph(' ')));
        for (letter, id) in regular.sfnt.letters() {
            assert!(readings.letter(Face::Regular, id).is_none_or(|known| known <= letter), "{letter}");
        }
        assert_eq!(readings.form(Face::Regular, glyph('ﬁ')), Some("fi"));
        assert_eq!(readings.advance(Face::Regular, u16::MAX), 0);
    }
}
