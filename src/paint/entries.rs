//! The entries of a form that can be filled in on a screen, as fields of the document (ISO 32000-1, 12.7). No scripts: a reader that
//! knows fields draws what is typed, and an empty field draws nothing.

use super::canvas::pt;
use crate::ground::{Area, Bug, Length};
use crate::sheet::{EntryKind, FormEntry, Job, Mark, Size};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string};
use std::collections::BTreeMap;

/// The size of what is typed: 10 pt; what is in a low box 8 pt.
const TYPED: &str = "/Helv 10 Tf 0 g";
const SMALL: &str = "/Helv 8 Tf 0 g";
/// From this height on a line bears the larger size.
const HIGH: Length = Length::hundredths_mm(650);
/// The side of a box to tick, as its appearance is drawn; a reader fits it into the field.
const TICK: Length = Length::mm(5);
/// Bits of a field's flags (ISO 32000-1, table 228): several lines. And of an annotation's (table 165): printed.
const SEVERAL_LINES: i64 = 1 << 12;
const PRINTED: i64 = 1 << 2;

/// Adds the entries of a job to its pages, in reading order; nothing where it has none.
pub(super) fn write(document: &mut Document, job: &Job, pages: &[ObjectId]) -> Result<(), Bug> {
    let mut names: BTreeMap<String, u32> = BTreeMap::new();
    let mut fields = Vec::new();
    let mut looks: Option<Looks> = None;
    for (page, id) in job.pages.iter().zip(pages) {
        let mut annotations = Vec::new();
        for placed in page.placed.iter().filter(|placed| !placed.is_turned) {
            let Some(panel) = job.panels.get(placed.panel) else { continue };
            let entries = panel.body.iter().filter_map(|mark| match mark {
                Mark::Entry(entry) => Some(entry),
                _ => None,
            });
            for entry in entries {
                let at = |area: Area| Area {
                    left: area.left + placed.at.x,
                    right: area.right + placed.at.x,
                    top: area.top + placed.at.y,
                    bottom: area.bottom + placed.at.y,
                };
                let looks = looks.get_or_insert_with(|| Looks::new(document)).clone();
                let field = field(entry, (at(entry.area), page.size), (name(entry, &mut names), *id), &looks);
                annotations.push(Object::Reference(document.add_object(field)));
            }
        }
        fields.extend(annotations.iter().cloned());
        if !annotations.is_empty() {
            let lost = |fault: lopdf::Error| Bug::new(format!("a page is missing: {fault}"));
            let page = document.get_dictionary_mut(*id).map_err(lost)?;
            page.set("Annots", annotations);
            // Row by row, as they are read: they are no part of what is told.
            page.set("Tabs", "R");
        }
    }
    let Some(looks) = looks else { return Ok(()) };
    let form = dictionary! {
        "Fields" => fields,
        "NeedAppearances" => true,
        "DA" => Object::string_literal(TYPED),
        "DR" => dictionary! { "Font" => dictionary! { "Helv" => looks.font, "ZaDb" => looks.signs } },
    };
    let form = document.add_object(form);
    let lost = |fault: lopdf::Error| Bug::new(format!("the catalogue is missing: {fault}"));
    document.catalog_mut().map_err(lost)?.set("AcroForm", form);
    Ok(())
}

/// A name that no other field has.
fn name(entry: &FormEntry, names: &mut BTreeMap<String, u32>) -> String {
    let mut count = names.get(&entry.name).copied().unwrap_or(0);
    let name = loop {
        count += 1;
        let name = if count == 1 { entry.name.clone() } else { format!("{} ({count})", entry.name) };
        if !names.contains_key(&name) {
            break name;
        }
    };
    names.insert(name.clone(), 1);
    names.insert(entry.name.clone(), count);
    name
}

/// What fields have in common: two of the fonts that every reader has, and how a box looks with its tick and without.
#[derive(Clone)]
struct Looks {
    font: ObjectId,
    signs: ObjectId,
    empty: ObjectId,
    ticked: ObjectId,
}

impl Looks {
    fn new(document: &mut Document) -> Self {
        let font = |base: &str, encoding: Option<&str>| {
            let mut font = dictionary! { "Type" => "Font", "Subtype" => "Type1", "BaseFont" => base };
            encoding.iter().for_each(|encoding| font.set("Encoding", *encoding));
            font
        };
        let (text, signs) = (font("Helvetica", Some("WinAnsiEncoding")), font("ZapfDingbats", None));
        let (font, signs) = (document.add_object(text), document.add_object(signs));
        let side = pt(TICK);
        let form = || {
            dictionary! {
                "Type" => "XObject",
                "Subtype" => "Form",
                "BBox" => vec![Object::Real(0.0), Object::Real(0.0), Object::Real(side), Object::Real(side)],
            }
        };
        // A cross from corner to corner, a little inside of them.
        let (near, far) = (side * 0.2, side * 0.8);
        let cross = format!("1.5 w {near} {near} m {far} {far} l S {near} {far} m {far} {near} l S");
        let empty = document.add_object(Stream::new(form(), Vec::new()));
        let ticked = document.add_object(Stream::new(form(), cross.into_bytes()));
        Self { font, signs, empty, ticked }
    }
}

fn field(entry: &FormEntry, (area, page): (Area, Size), (name, on): (String, ObjectId), looks: &Looks) -> Dictionary {
    let sides = [area.left, page.height - area.bottom, area.right, page.height - area.top];
    let mut field = dictionary! {
        "Type" => "Annot",
        "Subtype" => "Widget",
        "Rect" => sides.map(|side| Object::Real(pt(side))).to_vec(),
        "P" => on,
        "F" => PRINTED,
        "T" => text_string(&name),
        "TU" => text_string(&entry.help),
    };
    match entry.kind {
        EntryKind::Tick => {
            field.set("FT", "Btn");
            field.set("V", "Off");
            field.set("AS", "Off");
            field.set("AP", dictionary! { "N" => dictionary! { "Yes" => looks.ticked, "Off" => looks.empty } });
        }
        kind => {
            let is_high = area.bottom - area.top >= HIGH;
            let typed = if is_high { TYPED } else { SMALL };
            field.set("FT", "Tx");
            field.set("DA", Object::String(typed.as_bytes().to_vec(), StringFormat::Literal));
            if kind == EntryKind::Lines {
                field.set("Ff", SEVERAL_LINES);
            }
        }
    }
    field
}
