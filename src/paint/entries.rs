//! The entries of a form that can be filled in on a screen, as fields of the document (ISO 32000-1, 12.7). No scripts: a reader that
//! knows fields draws what is typed, and an empty field draws nothing.

use super::file::FileBytes;
use super::operands::pt;
use crate::ground::{Area, Length};
use crate::sheet::{EntryKind, FormEntry, Job, Mark, Page, Size};
use lopdf::{Dictionary, Object, StringFormat, dictionary, text_string};
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

/// An entry on a page.
pub(super) struct PageEntry {
    entry: FormEntry,
    area: Area,
    page: Size,
}

impl PageEntry {
    /// Those of a page, in reading order.
    pub fn of(job: &Job, page: &Page) -> Vec<Self> {
        let mut entries = Vec::new();
        for placed in page.placed.iter().filter(|placed| !placed.is_turned) {
            let Some(panel) = job.panels.get(placed.panel) else { continue };
            let at = |area: Area| Area {
                left: area.left + placed.at.x,
                right: area.right + placed.at.x,
                top: area.top + placed.at.y,
                bottom: area.bottom + placed.at.y,
            };
            let entry = |mark: &Mark| match mark {
                Mark::Entry(entry) => Some(Self { entry: entry.clone(), area: at(entry.area), page: page.size }),
                _ => None,
            };
            entries.extend(panel.body.iter().filter_map(entry));
        }
        entries
    }
}

/// The fields of a file.
#[derive(Default)]
pub(super) struct Fields {
    names: BTreeMap<String, u32>,
    fields: Vec<Object>,
    looks: Option<Looks>,
}

impl Fields {
    /// Writes the entries of a page, which are what it has to be shown on it.
    pub fn take(&mut self, entries: Vec<PageEntry>, page: u32, file: &mut FileBytes) -> Vec<Object> {
        let mut annotations = Vec::new();
        for PageEntry { entry, area, page: size } in entries {
            let looks = self.looks.get_or_insert_with(|| Looks::new(file));
            let name = name(&entry, &mut self.names);
            let field = field(&entry, (area, size), (name, page), looks);
            annotations.push(Object::Reference((file.object(field), 0)));
        }
        self.fields.extend(annotations.iter().cloned());
        annotations
    }

    /// The form that holds them; none of a file without any.
    pub fn write(self, file: &mut FileBytes) -> Option<u32> {
        let Looks { font, signs, .. } = self.looks?;
        Some(file.object(dictionary! {
            "Fields" => self.fields,
            "NeedAppearances" => true,
            "DA" => Object::string_literal(TYPED),
            "DR" => dictionary! { "Font" => dictionary! { "Helv" => font, "ZaDb" => signs } },
        }))
    }
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
struct Looks {
    font: Object,
    signs: Object,
    empty: Object,
    ticked: Object,
}

impl Looks {
    fn new(file: &mut FileBytes) -> Self {
        let font = |base: &str, encoding: Option<&str>| {
            let mut font = dictionary! { "Type" => "Font", "Subtype" => "Type1", "BaseFont" => base };
            encoding.iter().for_each(|encoding| font.set("Encoding", *encoding));
            font
        };
        let (text, signs) = (font("Helvetica", Some("WinAnsiEncoding")), font("ZapfDingbats", None));
        let reference = |id: u32| Object::Reference((id, 0));
        let (font, signs) = (reference(file.object(text)), reference(file.object(signs)));
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
        let empty = reference(file.stream(&form(), b""));
        let ticked = reference(file.stream(&form(), cross.as_bytes()));
        Self { font, signs, empty, ticked }
    }
}

fn field(entry: &FormEntry, (area, page): (Area, Size), (name, on): (String, u32), looks: &Looks) -> Dictionary {
    let sides = [area.left, page.height - area.bottom, area.right, page.height - area.top];
    let mut field = dictionary! {
        "Type" => "Annot",
        "Subtype" => "Widget",
        "Rect" => sides.map(|side| Object::Real(pt(side))).to_vec(),
        "P" => Object::Reference((on, 0)),
        "F" => PRINTED,
        "T" => text_string(&name),
        "TU" => text_string(&entry.help),
    };
    match entry.kind {
        EntryKind::Tick => {
            field.set("FT", "Btn");
            field.set("V", "Off");
            field.set("AS", "Off");
            field.set(
                "AP",
                dictionary! { "N" => dictionary! { "Yes" => looks.ticked.clone(), "Off" => looks.empty.clone() } },
            );
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
