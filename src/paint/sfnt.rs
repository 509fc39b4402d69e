//! The few numbers that a PDF wants from a TrueType file.
//!
//! Offsets are those of the OpenType specification 1.9, chapters head, hhea, hmtx and OS/2.

/// Metrics of one face, in font units.
pub(super) struct Sfnt<'a> {
    hmtx: &'a [u8],
    long_metrics: u16,
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
        let (head, hhea, os2) = (table(bytes, *b"head")?, table(bytes, *b"hhea")?, table(bytes, *b"OS/2")?);
        Some(Self {
            hmtx: table(bytes, *b"hmtx")?,
            long_metrics: u16_at(hhea, 34)?,
            units_per_em: u16_at(head, 18).filter(|units| *units > 0)?,
            bounds: [i16_at(head, 36)?, i16_at(head, 38)?, i16_at(head, 40)?, i16_at(head, 42)?],
            ascent: i16_at(hhea, 4)?,
            descent: i16_at(hhea, 6)?,
            cap_height: i16_at(os2, 88)?,
            weight: u16_at(os2, 4)?,
        })
    }

    /// How far the pen moves after a glyph; glyphs past the long metrics share the last one.
    pub fn advance(&self, glyph: u16) -> Option<u16> {
        let index = glyph.min(self.long_metrics.checked_sub(1)?);
        u16_at(self.hmtx, usize::from(index) * 4)
    }
}

fn table(bytes: &[u8], tag: [u8; 4]) -> Option<&[u8]> {
    let count = usize::from(u16_at(bytes, 4)?);
    let record = (0..count).map(|n| 12 + 16 * n).find(|at| bytes.get(*at..at + 4) == Some(tag.as_slice()))?;
    let (start, length) = (u32_at(bytes, record + 8)?, u32_at(bytes, record + 12)?);
    bytes.get(start..start.checked_add(length)?)
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

fn i16_at(bytes: &[u8], at: usize) -> Option<i16> {
    Some(i16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?)).ok()
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
