//! The few numbers that a PDF wants from a TrueType file.

use read_fonts::tables::cmap::Cmap;
use read_fonts::tables::gsub::{CoverageTable, SingleSubst, SubstitutionSubtables};
use read_fonts::tables::hmtx::Hmtx;
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, ReadError, TableProvider};

/// Metrics of one face, in font units.
pub(super) struct Sfnt<'a> {
    hmtx: Hmtx<'a>,
    cmap: Cmap<'a>,
    /// Glyphs with another shape of each, for whatever reason it is set: tabular, in a fraction, inside a word.
    pub variants: Vec<(u16, u16)>,
    glyphs: u16,
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
            cmap: font.cmap().ok()?,
            glyphs: font.maxp().ok()?.num_glyphs(),
            units_per_em: Some(head.units_per_em()).filter(|units| *units > 0)?,
            bounds: [head.x_min(), head.y_min(), head.x_max(), head.y_max()],
            ascent: hhea.ascender().to_i16(),
            descent: hhea.descender().to_i16(),
            cap_height: os2.s_cap_height()?,
            weight: os2.us_weight_class(),
            variants: variants(&font),
        })
    }

    /// How far the pen moves after each glyph.
    pub fn advances(&self) -> Vec<u16> {
        (0..self.glyphs).map(|glyph| self.hmtx.advance(GlyphId::from(glyph)).unwrap_or_default()).collect()
    }

    /// Letters with the glyphs that show them by themselves, by letter.
    pub fn letters(&self) -> impl Iterator<Item = (char, u16)> + use<'a> {
        let table = self.cmap.best_subtable().map(|(_, _, table)| table);
        let known =
            |(letter, glyph): (u32, GlyphId)| Some((char::from_u32(letter)?, u16::try_from(glyph.to_u32()).ok()?));
        table.into_iter().flat_map(|table| table.iter()).filter_map(known).filter(|(_, glyph)| *glyph != 0)
    }
}

fn variants(font: &FontRef<'_>) -> Vec<(u16, u16)> {
    let lookups = font.gsub().and_then(|table| table.lookup_list());
    let lookups = lookups.iter().flat_map(|lookups| lookups.lookups().iter().flatten());
    let mut variants = Vec::new();
    for lookup in lookups {
        if let Ok(SubstitutionSubtables::Single(tables)) = lookup.subtables() {
            tables.iter().flatten().for_each(|table| variants.extend(of_single(&table)));
        }
    }
    variants
}

/// Glyphs with those that one table of substitutions sets in their place.
fn of_single(table: &SingleSubst<'_>) -> Vec<(u16, u16)> {
    let of = |coverage: Result<CoverageTable<'_>, ReadError>| -> Vec<u16> {
        let ids = coverage.into_iter().flat_map(|coverage| coverage.iter().map(|id| id.to_u32()).collect::<Vec<_>>());
        ids.filter_map(|id| u16::try_from(id).ok()).collect()
    };
    match table {
        SingleSubst::Format1(table) => {
            let delta = table.delta_glyph_id();
            of(table.coverage()).into_iter().map(|id| (id, id.wrapping_add_signed(delta))).collect()
        }
        SingleSubst::Format2(table) => {
            let others = table.substitute_glyph_ids().iter().map(|id| id.get().to_u16());
            of(table.coverage()).into_iter().zip(others).collect()
        }
        // For faces of more than 65,535 glyphs.
        SingleSubst::Format3(_) | SingleSubst::Format4(_) => Vec::new(),
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
            assert_eq!(i32::from(sfnt.advances()[usize::from(glyph)]), advance, "{letter}");
            assert!(
                sfnt.letters().any(|known| known == (letter.chars().next().unwrap(), glyph)) || letter == "0",
                "{letter}"
            );
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
