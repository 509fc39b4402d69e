//! The glyphs that a document uses, cut out of each face and written as five PDF objects.
//!
//! Codes on the page are glyph numbers of the cut font (Identity-H), so one code is one glyph.

use super::deflate::zlib_shared;
use super::sfnt::Sfnt;
use crate::ground::{Bug, Shelf};
use crate::sheet::{Face, Glyph, Glyphs, Mark};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use pdf_writer::types::{SystemInfo, UnicodeCmap};
use pdf_writer::{Name, Str};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
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

/// A font file cut down to some glyphs.
pub(super) struct Program {
    /// Its length in bytes.
    length: i64,
    deflated: Vec<u8>,
}

/// One face cut down to the glyphs in use.
pub(super) struct Cut {
    face: Face,
    sfnt: Sfnt<'static>,
    codes: GlyphRemapper,
    /// What each glyph of the whole face reads as: the least of its texts, so that order changes nothing.
    texts: Texts,
    program: Arc<Program>,
    /// What each code reads as, deflated.
    to_unicode: Vec<u8>,
}

/// The glyphs of some marks, each with the least of its texts.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Used(BTreeMap<Face, Texts>);

/// What glyphs read as.
type Texts = BTreeMap<u16, String>;

impl Used {
    /// The glyphs of marks.
    pub fn of<'a>(marks: impl Iterator<Item = &'a Mark>) -> Self {
        let mut used = Self::default();
        used.add(marks);
        used
    }

    /// Adds the glyphs of marks.
    pub fn add<'a>(&mut self, marks: impl Iterator<Item = &'a Mark>) {
        for mark in marks {
            if let Mark::Glyphs(run) = mark {
                for glyphs in run.glyphs.chunk_by(|a, b| a.face == b.face) {
                    let face = glyphs.first().map_or(run.face, |glyph| glyph.face);
                    let texts = self.0.entry(face).or_default();
                    glyphs.iter().for_each(|glyph| take(glyph.id, glyph.of(&run.text), texts));
                }
            }
        }
    }

    /// Adds the letters that nearly every file has, in the faces in use: files that differ in those alone have the same fonts.
    pub fn take_alphabet(&mut self, alphabet: &[(Glyph, String)]) {
        for (glyph, text) in alphabet {
            if let Some(texts) = self.0.get_mut(&glyph.face) {
                take(glyph.id, text, texts);
            }
        }
    }

    /// Adds what others use.
    pub fn join(&mut self, other: &Self) {
        for (face, texts) in &other.0 {
            let known = self.0.entry(*face).or_default();
            texts.iter().for_each(|(glyph, text)| take(*glyph, text, known));
        }
    }
}

fn take(glyph: u16, text: &str, texts: &mut Texts) {
    let known = texts.entry(glyph).or_default();
    if known.is_empty() || (!text.is_empty() && text < known.as_str()) {
        text.clone_into(known);
    }
}

/// Where all files of an edition are painted: it has the fonts that they need, each cut once.
#[derive(Default)]
pub struct Press {
    /// By a face and the glyphs that are kept of it.
    programs: Shelf<(Face, Vec<u16>), Result<Arc<Program>, Bug>>,
}

/// The cuts of all faces in use.
pub(super) struct Cuts {
    cuts: BTreeMap<Face, Cut>,
}

impl Cuts {
    /// Cuts fonts to what is used, and to an alphabet.
    pub fn new(used: Used, alphabet: &[(Glyph, String)], press: &Press) -> Result<Self, Bug> {
        let cut = |(face, texts)| Ok((face, Cut::new(face, texts, alphabet, press)?));
        Ok(Self { cuts: used.0.into_iter().map(cut).collect::<Result<_, Bug>>()? })
    }

    /// Whether two sets of fonts have the same codes and readings for some glyphs.
    pub fn agree(&self, other: &Self, used: &Used) -> bool {
        used.0.iter().all(|(face, texts)| {
            let Some((one, two)) = self.get(*face).zip(other.get(*face)) else { return false };
            texts
                .keys()
                .all(|glyph| one.code(*glyph) == two.code(*glyph) && one.texts.get(glyph) == two.texts.get(glyph))
        })
    }

    /// The cut of a face.
    pub fn get(&self, face: Face) -> Option<&Cut> {
        self.cuts.get(&face)
    }

    /// Whether a reader gets exactly the run's text from the codes alone.
    pub fn reads(&self, run: &Glyphs) -> bool {
        let of_face = |glyph: &Glyph| self.get(glyph.face).and_then(|cut| cut.texts.get(&glyph.id));
        let is_plain = |glyph: &Glyph| {
            let text = glyph.of(&run.text);
            !text.is_empty() && of_face(glyph).is_some_and(|known| known == text)
        };
        let in_order =
            || run.as_read().into_iter().map(|(_, glyph)| glyph.of(&run.text)).collect::<String>() == run.text;
        run.glyphs.iter().all(is_plain) && in_order()
    }

    /// Writes all font objects and gives the dictionary for the resources.
    pub fn write(&self, document: &mut Document) -> Dictionary {
        self.cuts.values().map(|cut| (resource_name(cut.face), Object::Reference(cut.write(document)))).collect()
    }
}

impl Cut {
    fn new(face: Face, mut texts: Texts, alphabet: &[(Glyph, String)], press: &Press) -> Result<Self, Bug> {
        let sfnt = Sfnt::read(face.bytes()).ok_or_else(|| Bug::new("a built-in font cannot be read"))?;
        let mut codes = GlyphRemapper::new();
        for (glyph, text) in alphabet.iter().filter(|(glyph, _)| glyph.face == face) {
            take(glyph.id, text, &mut texts);
            codes.remap(glyph.id);
        }
        texts.keys().for_each(|glyph| _ = codes.remap(*glyph));
        let kept = codes.remapped_gids().collect();
        let program = press.programs.get((face, kept), || program(face, &codes))?;
        let to_unicode = zlib_shared(&to_unicode(&codes, &texts));
        Ok(Self { face, sfnt, codes, texts, program, to_unicode })
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

    fn write(&self, document: &mut Document) -> ObjectId {
        let Program { length, deflated } = &*self.program;
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
        let to_unicode = dictionary! { "Filter" => "FlateDecode" };
        let to_unicode = document.add_object(Stream::new(to_unicode, self.to_unicode.clone()).with_compression(false));
        document.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "Type0",
            "BaseFont" => Object::Name(name.into_bytes()),
            "Encoding" => "Identity-H",
            "DescendantFonts" => vec![Object::Reference(descendant)],
            "ToUnicode" => to_unicode,
        })
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
}

/// The cut font file.
fn program(face: Face, codes: &GlyphRemapper) -> Result<Arc<Program>, Bug> {
    let file = subsetter::subset(face.bytes(), 0, codes)
        .map_err(|fault| Bug::new(format!("a built-in font cannot be cut: {fault:?}")))?;
    let length = i64::try_from(file.len()).unwrap_or(i64::MAX);
    Ok(Arc::new(Program { length, deflated: zlib_shared(&file) }))
}

/// The table of what each code reads as.
fn to_unicode(codes: &GlyphRemapper, texts: &Texts) -> Vec<u8> {
    let info = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
    let mut map = UnicodeCmap::new(Name(b"Adobe-Identity-UCS"), info);
    for (glyph, text) in texts {
        if let Some(code) = codes.get(*glyph).filter(|_| !text.is_empty()) {
            map.pair_with_multiple(code, text.chars());
        }
    }
    map.finish().as_slice().to_vec()
}

/// A whole number without its point.
#[expect(clippy::cast_possible_truncation, reason = "checked to be whole and small")]
fn number(value: f32) -> Object {
    if value.fract() == 0.0 && value.abs() < 1e6 { Object::Integer(value as i64) } else { Object::Real(value) }
}
