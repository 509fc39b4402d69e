//! The few numbers that a PDF wants from a TrueType file.

use read_fonts::tables::hmtx::Hmtx;
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, TableProvider};

/// Metrics of one face, in font units.
pub(super) struct Sfnt<'a> {
    hmtx: Hmtx<'a>,
    /// Units in one em.
    pub units_per_em: u16,
    /// Left, bottom, right and top of all glyphs.
    pub bounds: [i16; 4],
    /// Above the baseline.
    pub ascent: i16,
    /// Below the baseline, negative.
    pub descent: i16,
    /// Height of a flat capital.
    pub cap_height: i16,
    /// 400 is regular.
    pub weight: u16,
}

impl<'a> Sfnt<'a> {
    /// Reads the header tables. `None` when one is missing or cut short.
    pub fn read(bytes: &'a [u8]) -> Option<Self> {
        let font = FontRef::new(bytes).ok()?;
        let (head, hhea, os2) = (font.head().ok()?, font.hhea().ok()?, font.os2().ok()?);
        Some(Self {
            hmtx: font.hmtx().ok()?,
            units_per_em: Some(head.units_per_em()).filter(|units| *units > 0)?,
            bounds: [head.x_min(), head.y_min(), head.x_max(), head.y_max()],
            ascent: hhea.ascender().to_i16(),
            descent: hhea.descender().to_i16(),
            cap_height: os2.s_cap_height()?,
            weight: os2.us_weight_class(),
        })
    }

    /// How far the pen moves after a glyph.
    pub fn advance(&self, glyph: u16) -> Option<u16> {
        self.hmtx.advance(GlyphId::from(glyph))
    }
}

#[cfg(test)]
mod tests {
    use super::Sfnt;
    use crate::sheet::Face;

    #[test]
    fn advances_agree_with_the_shaper() {
        let bytes = Face::Regular.bytes();
        let sfnt = Sfnt::read(bytes).unwrap();
        let font = harfrust::Font::new(bytes, 0).unwrap();
        let shaper = harfrust::ShaperFont::new(&font);
        // One letter alone: nothing to kern against.
        for letter in ["H", "i", "0", ".", "W"] {
            let mut buffer = harfrust::Buffer::new();
            buffer.push_str(letter);
            buffer.guess_segment_properties();
            harfrust::shape(&shaper, &mut buffer, harfrust::ShapeOptions::new()).unwrap();
            let glyph = u16::try_from(buffer.glyph_infos()[0].glyph_id).unwrap();
            let advance = buffer.glyph_positions()[0].x_advance;
            assert_eq!(sfnt.advance(glyph).map(i32::from), Some(advance), "{letter}");
        }
    }

    #[test]
    fn no_cut_of_the_file_panics() {
        let bytes = Face::Regular.bytes();
        for end in (0..600).chain([bytes.len() / 2]) {
            let _ = Sfnt::read(&bytes[..end]);
        }
        assert!(Sfnt::read(&bytes[..600]).is_none());
    }
}
