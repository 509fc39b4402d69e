//! The glyphs that a document uses, cut out of each face and written as PDF objects.
//!
//! Codes on the page are glyph numbers of the whole face; a map in the file says which glyph of the cut face each one is
//! (CIDToGIDMap: ISO 32000-1, 9.7.4.2).

use super::container::{Boxes, Container, boxes};
use super::deflate::zlib_shared;
use super::file::FileBytes;
use super::operands::thousandths;
use super::readings::{FaceReadings, Readings};
use super::sfnt::Sfnt;
use super::used::{Used, UsedGlyphs};
use crate::ground::{Bug, Shelf};
use crate::sheet::{Face, Glyph, Page};
use lopdf::{Dictionary, Object, dictionary};
use pdf_writer::types::{SystemInfo, UnicodeCmap};
use pdf_writer::{Name, Str};
use sha2::{Digest, Sha256};
use std::sync::Arc;
use subsetter::GlyphRemapper;

const fn post_script_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "FiraSansCondensed-Regular",
        Face::Medium => "FiraSansCondensed-Medium",
        Face::SemiBold => "FiraSansCondensed-SemiBold",
        Face::Bold => "FiraSansCondensed-Bold",
        Face::Hebrew => "NotoSansHebrew-Condensed",
        Face::HebrewBold => "NotoSansHebrew-CondensedBold",
        Face::Arabic => "NotoSansArabicUI-Regular",
        Face::ArabicBold => "NotoSansArabicUI-Bold",
    }
}

/// Name of a face in the resources.
pub(super) const fn resource_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "Regular",
        Face::Medium => "Medium",
        Face::SemiBold => "SemiBold",
        Face::Bold => "Bold",
        Face::Hebrew => "Hebrew",
        Face::HebrewBold => "HebrewBold",
        Face::Arabic => "Arabic",
        Face::ArabicBold => "ArabicBold",
    }
}

/// Fonts that are kept for the next files: where each file has its own, there is no use in more.
const KEPT: usize = 64;

/// Where all files of an edition are painted: it has the fonts that they need, each cut once.
#[derive(Default)]
pub struct Press {
    cuts: Shelf<(Face, UsedGlyphs), Result<Arc<Cut>, Bug>>,
    containers: Shelf<Boxes, Result<Arc<Container>, Bug>>,
}

impl Press {
    /// The document around a page with boxes such as these.
    pub(super) fn container(&self, page: &Page) -> Result<Arc<Container>, Bug> {
        self.containers.get_of(KEPT, boxes(page), || Ok(Arc::new(Container::of(page)?)))
    }

    /// Writes the fonts of all faces in use and gives the dictionary for the resources.
    pub(super) fn write(
        &self,
        used: &Used,
        alphabet: &[(Glyph, String)],
        file: &mut FileBytes,
    ) -> Result<Dictionary, Bug> {
        let (mut fonts, readings) = (Dictionary::new(), Readings::built_in()?);
        for (face, glyphs) in used.faces() {
            let mut glyphs = glyphs.clone();
            let usual = alphabet.iter().filter(|(glyph, _)| glyph.face == face);
            usual.for_each(|(glyph, _)| glyphs.add(glyph.id));
            let known = readings.face(face).ok_or_else(|| Bug::new("a face has no readings"))?;
            let cut = || Ok(Arc::new(Cut::new(face, &glyphs, (readings, known))?));
            let cut = self.cuts.get_of(KEPT, (face, glyphs.clone()), cut)?;
            fonts.set(resource_name(face), Object::Reference((cut.write(&known.sfnt, file), 0)));
        }
        Ok(fonts)
    }
}

/// One face cut down to the glyphs in use.
pub(super) struct Cut {
    name: String,
    /// The length of the font file before it was deflated.
    length: i64,
    program: Vec<u8>,
    /// For each code its glyph in that file.
    glyphs: Vec<u8>,
    /// What each code reads as.
    to_unicode: Vec<u8>,
    /// As a PDF wants them: the first code of those that follow each other, and their widths.
    widths: Vec<Object>,
}

impl Cut {
    fn new(face: Face, used: &UsedGlyphs, (readings, known): (&Readings, &FaceReadings)) -> Result<Self, Bug> {
        let mut glyphs = GlyphRemapper::new();
        used.ids().for_each(|glyph| _ = glyphs.remap(glyph));
        let file = subsetter::subset(face.bytes(), 0, &glyphs)
            .map_err(|fault| Bug::new(format!("a built-in font cannot be cut: {fault:?}")))?;
        let last = used.ids().last().unwrap_or(0);
        let map: Vec<u8> = (0..=last).flat_map(|id| glyphs.get(id).unwrap_or(0).to_be_bytes()).collect();
        let ids: Vec<u16> = used.ids().collect();
        let mut widths = Vec::new();
        for run in ids.chunk_by(|a, b| a.checked_add(1) == Some(*b)) {
            let width = |glyph: &u16| number(thousandths(readings.advance(face, *glyph)));
            widths.push(Object::Integer(run.first().copied().map_or(0, i64::from)));
            widths.push(Object::Array(run.iter().map(width).collect()));
        }
        if known.sfnt.units_per_em != 1000 {
            return Err(Bug::new("a face has other units than thousandths of an em"));
        }
        Ok(Self {
            name: format!("{}+{}", tag(face, &ids), post_script_name(face)),
            length: i64::try_from(file.len()).unwrap_or(i64::MAX),
            program: zlib_shared(&file),
            glyphs: zlib_shared(&map),
            to_unicode: zlib_shared(&to_unicode(used, face, readings)),
            widths,
        })
    }

    fn write(&self, sfnt: &Sfnt<'_>, file: &mut FileBytes) -> u32 {
        let deflated = || dictionary! { "Filter" => "FlateDecode" };
        let mut program = deflated();
        program.set("Length1", self.length);
        let program = file.stream(&program, &self.program);
        let (glyphs, to_unicode) = (file.stream(&deflated(), &self.glyphs), file.stream(&deflated(), &self.to_unicode));
        let descriptor = file.object(descriptor(sfnt, &self.name, program));
        let name = || Object::Name(self.name.clone().into_bytes());
        let descendant = file.object(dictionary! {
            "Type" => "Font",
            "Subtype" => "CIDFontType2",
            "BaseFont" => name(),
            "CIDSystemInfo" => dictionary! {
                "Registry" => Object::string_literal("Adobe"),
                "Ordering" => Object::string_literal("Identity"),
                "Supplement" => 0,
            },
            "FontDescriptor" => Object::Reference((descriptor, 0)),
            "CIDToGIDMap" => Object::Reference((glyphs, 0)),
            "DW" => 0,
            "W" => self.widths.clone(),
        });
        file.object(dictionary! {
            "Type" => "Font",
            "Subtype" => "Type0",
            "BaseFont" => name(),
            "Encoding" => "Identity-H",
            "DescendantFonts" => vec![Object::Reference((descendant, 0))],
            "ToUnicode" => Object::Reference((to_unicode, 0)),
        })
    }
}

/// Six capitals from the glyphs kept: the same glyphs, the same tag.
fn tag(face: Face, ids: &[u16]) -> String {
    let mut hash = Sha256::new();
    hash.update(post_script_name(face));
    ids.iter().for_each(|glyph| hash.update(glyph.to_be_bytes()));
    hash.finalize().iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

fn descriptor(sfnt: &Sfnt<'_>, name: &str, program: u32) -> Dictionary {
    let em = |units: i16| number(thousandths(i32::from(units)));
    // Stem width is not stored in the file; this is the usual estimate from the weight, used only for substitutes.
    let stem = i64::from(sfnt.weight) / 5 + 10;
    dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => Object::Name(name.as_bytes().to_vec()),
        // Symbolic: the codes are glyph numbers, not Latin letters.
        "Flags" => 4,
        "FontBBox" => sfnt.bounds.map(em).to_vec(),
        "ItalicAngle" => 0,
        "Ascent" => em(sfnt.ascent),
        "Descent" => em(sfnt.descent),
        "CapHeight" => em(sfnt.cap_height),
        "StemV" => stem,
        "FontFile2" => Object::Reference((program, 0)),
    }
}

/// The table of what each code reads as.
fn to_unicode(used: &UsedGlyphs, face: Face, readings: &Readings) -> Vec<u8> {
    let info = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
    let mut map = UnicodeCmap::new(Name(b"Adobe-Identity-UCS"), info);
    for glyph in used.ids() {
        let letter = readings.letter(face, glyph).map(String::from);
        let text = letter.as_deref().or_else(|| readings.form(face, glyph)).unwrap_or_else(|| used.text(glyph));
        if !text.is_empty() {
            map.pair_with_multiple(glyph, text.chars());
        }
    }
    map.finish().as_slice().to_vec()
}

/// A whole number without its point.
#[expect(clippy::cast_possible_truncation, reason = "checked to be whole and small")]
fn number(value: f32) -> Object {
    if value.fract() == 0.0 && value.abs() < 1e6 { Object::Integer(value as i64) } else { Object::Real(value) }
}
