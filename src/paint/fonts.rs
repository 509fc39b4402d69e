//! The glyphs that a document uses, cut out of each face and written as five PDF objects.
//!
//! Codes on the page are glyph numbers of the cut font (Identity-H), so one code is one glyph.

use super::bug::Bug;
use super::container::{deflated, zlib};
use super::sfnt::Sfnt;
use crate::impose::sheet::Job;
use crate::typeset::mark::{Face, Glyph, Glyphs, Mark};
use crate::typeset::pen::usual_glyphs;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use pdf_writer::types::{SystemInfo, UnicodeCmap};
use pdf_writer::{Name, Str};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::sync::{Arc, RwLock};
use subsetter::GlyphRemapper;

const fn post_script_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "FiraSansCondensed-Regular",
        Face::Medium => "FiraSansCondensed-Medium",
        Face::SemiBold => "FiraSansCondensed-SemiBold",
        Face::Bold => "FiraSansCondensed-Bold",
    }
}

/// Name of a face in the resources.
pub(super) const fn resource_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "Regular",
        Face::Medium => "Medium",
        Face::SemiBold => "SemiBold",
        Face::Bold => "Bold",
    }
}

/// A font file cut down to some glyphs.
struct Program {
    /// Its length in bytes.
    length: i64,
    deflated: Vec<u8>,
}

/// How many cut fonts are remembered.
const REMEMBERED: usize = 64;

/// Cut fonts by their face and glyphs.
type CutFonts = BTreeMap<(Face, Vec<u16>), Arc<Program>>;

static CUT: RwLock<CutFonts> = RwLock::new(BTreeMap::new());

/// One face cut down to the glyphs in use.
pub(super) struct Cut {
    face: Face,
    sfnt: Sfnt<'static>,
    codes: GlyphRemapper,
    /// What each glyph of the whole face reads as: the least of its texts, so that order changes nothing.
    texts: BTreeMap<u16, String>,
}

/// The cuts of all faces in use.
pub(super) struct Cuts(BTreeMap<Face, Cut>);

impl Cuts {
    /// Gathers the glyphs of all panels and pages.
    pub fn of(job: &Job) -> Result<Self, Bug> {
        let mut used: BTreeMap<Face, BTreeMap<u16, String>> = BTreeMap::new();
        let marks =
            job.panels.iter().flat_map(|panel| &panel.marks).chain(job.pages.iter().flat_map(|page| &page.marks));
        for mark in marks {
            if let Mark::Glyphs(run) = mark {
                gather(run, used.entry(run.face).or_default());
            }
        }
        // The letters that everybody's sheets have, so that their cut fonts are one and the same.
        for face in [Face::Regular, Face::Bold] {
            if let Some(texts) = used.get_mut(&face) {
                usual_glyphs(face).iter().for_each(|glyph| take(glyph, texts));
            }
        }
        let cuts = used.into_iter().map(|(face, texts)| Ok((face, Cut::new(face, texts)?)));
        cuts.collect::<Result<_, Bug>>().map(Self)
    }

    /// The cut of a face.
    pub fn get(&self, face: Face) -> Option<&Cut> {
        self.0.get(&face)
    }

    /// Writes all font objects and gives the dictionary for the resources.
    pub fn write(&self, document: &mut Document) -> Result<Dictionary, Bug> {
        let mut fonts = Dictionary::new();
        for cut in self.0.values() {
            fonts.set(resource_name(cut.face), cut.write(document)?);
        }
        Ok(fonts)
    }
}

fn gather(run: &Glyphs, texts: &mut BTreeMap<u16, String>) {
    run.glyphs.iter().for_each(|glyph| take(glyph, texts));
}

fn take(glyph: &Glyph, texts: &mut BTreeMap<u16, String>) {
    let known = texts.entry(glyph.id).or_default();
    if known.is_empty() || (!glyph.text.is_empty() && glyph.text < *known) {
        known.clone_from(&glyph.text);
    }
}

impl Cut {
    fn new(face: Face, texts: BTreeMap<u16, String>) -> Result<Self, Bug> {
        let sfnt = Sfnt::read(face.bytes()).ok_or_else(|| Bug::new("a built-in font cannot be read"))?;
        let ids: Vec<u16> = texts.keys().copied().collect();
        Ok(Self { face, sfnt, codes: GlyphRemapper::new_from_glyphs_sorted(&ids), texts })
    }

    /// The code of a glyph on the page.
    pub fn code(&self, glyph: u16) -> Option<u16> {
        self.codes.get(glyph)
    }

    /// The code of the space, where the document uses it.
    pub fn space(&self) -> Option<u16> {
        self.texts.iter().find(|(_, text)| *text == " ").and_then(|(glyph, _)| self.code(*glyph))
    }

    /// The advance that the PDF declares for a glyph, in font units.
    pub fn advance(&self, glyph: u16) -> i32 {
        self.sfnt.advance(glyph).map_or(0, i32::from)
    }

    /// Font units in thousandths of an em.
    #[expect(clippy::cast_precision_loss, reason = "font units stay below 2^24")]
    pub fn thousandths(&self, units: i32) -> f32 {
        (units * 1000) as f32 / f32::from(self.sfnt.units_per_em)
    }

    /// Whether a reader gets exactly the run's text from the codes alone.
    pub fn reads(&self, run: &Glyphs) -> bool {
        let plain = run.glyphs.iter().all(|g| !g.text.is_empty() && self.texts.get(&g.id) == Some(&g.text));
        plain && run.glyphs.iter().map(|g| g.text.as_str()).collect::<String>() == run.text
    }

    fn write(&self, document: &mut Document) -> Result<ObjectId, Bug> {
        let Program { length, deflated } = &*self.program()?;
        let name = format!("{}+{}", self.tag(), post_script_name(self.face));
        let dictionary = dictionary! { "Length1" => *length, "Filter" => "FlateDecode" };
        let file = document.add_object(Stream::new(dictionary, deflated.clone()).with_compression(false));
        let descriptor = document.add_object(self.descriptor(&name, file));
        let descendant = document.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "CIDFontType2",
            "BaseFont" => Object::Name(name.clone().into_bytes()),
            "CIDSystemInfo" => dictionary! {
                "Registry" => Object::string_literal("Adobe"),
                "Ordering" => Object::string_literal("Identity"),
                "Supplement" => 0,
            },
            "FontDescriptor" => descriptor,
            "CIDToGIDMap" => "Identity",
            "DW" => 0,
            "W" => vec![Object::Integer(0), self.widths().into()],
        });
        let to_unicode = document.add_object(self.to_unicode());
        Ok(document.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "Type0",
            "BaseFont" => Object::Name(name.into_bytes()),
            "Encoding" => "Identity-H",
            "DescendantFonts" => vec![Object::Reference(descendant)],
            "ToUnicode" => to_unicode,
        }))
    }

    /// The cut font file. Remembered by its glyphs: the personal sets of a team use the same ones, and cutting takes a while.
    fn program(&self) -> Result<Arc<Program>, Bug> {
        let key = (self.face, self.codes.remapped_gids().collect::<Vec<u16>>());
        if let Some(known) = CUT.read().ok().and_then(|cut| cut.get(&key).map(Arc::clone)) {
            return Ok(known);
        }
        let file = subsetter::subset(self.face.bytes(), 0, &self.codes)
            .map_err(|fault| Bug::new(format!("a built-in font cannot be cut: {fault:?}")))?;
        let length = i64::try_from(file.len()).unwrap_or(i64::MAX);
        let program = Arc::new(Program { length, deflated: zlib(&file) });
        if let Some(mut cut) = CUT.write().ok().filter(|cut| cut.len() < REMEMBERED) {
            cut.insert(key, Arc::clone(&program));
        }
        Ok(program)
    }

    /// Six capitals from the glyphs kept: the same glyphs, the same tag.
    fn tag(&self) -> String {
        let mut hash = Sha256::new();
        hash.update(post_script_name(self.face));
        for glyph in self.codes.remapped_gids() {
            hash.update(glyph.to_be_bytes());
        }
        hash.finalize().iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
    }

    fn widths(&self) -> Vec<Object> {
        self.codes.remapped_gids().map(|glyph| number(self.thousandths(self.advance(glyph)))).collect()
    }

    fn descriptor(&self, name: &str, file: ObjectId) -> Dictionary {
        let em = |units: i16| number(self.thousandths(i32::from(units)));
        // Stem width is not stored in the file; this is the usual estimate from the weight, used only for substitutes.
        let stem = i64::from(self.sfnt.weight) / 5 + 10;
        dictionary! {
            "Type" => "FontDescriptor",
            "FontName" => Object::Name(name.as_bytes().to_vec()),
            // Symbolic: the codes are glyph numbers, not Latin letters.
            "Flags" => 4,
            "FontBBox" => self.sfnt.bounds.map(em).to_vec(),
            "ItalicAngle" => 0,
            "Ascent" => em(self.sfnt.ascent),
            "Descent" => em(self.sfnt.descent),
            "CapHeight" => em(self.sfnt.cap_height),
            "StemV" => stem,
            "FontFile2" => file,
        }
    }

    fn to_unicode(&self) -> Stream {
        let info = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
        let mut map = UnicodeCmap::new(Name(b"Adobe-Identity-UCS"), info);
        for (glyph, text) in &self.texts {
            if let Some(code) = self.code(*glyph).filter(|_| !text.is_empty()) {
                map.pair_with_multiple(code, text.chars());
            }
        }
        deflated(Dictionary::new(), map.finish().as_slice())
    }
}

/// A whole number without its point.
#[expect(clippy::cast_possible_truncation, reason = "checked to be whole and small")]
fn number(value: f32) -> Object {
    if value.fract() == 0.0 && value.abs() < 1e6 { Object::Integer(value as i64) } else { Object::Real(value) }
}
