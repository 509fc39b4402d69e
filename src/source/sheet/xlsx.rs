//! Office Open XML spreadsheets (ECMA-376): each sheet a part, texts shared in another, and days told from numbers by their format.

use super::archive::{Archive, ArchivePart, add_text, attribute};
use super::{Fault, Laid, SheetRead, chosen, values};
use crate::ground::caps::{PLAN_FILE, TABLE_CELLS};
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;

/// Where a relation leads: what kind of part, and its name.
type Relations = BTreeMap<String, (String, String)>;

/// What all sheets of a workbook share.
#[derive(Default)]
struct Book {
    names: Vec<String>,
    /// The relations of the sheets.
    sheets: Vec<String>,
    is_1904: bool,
    /// Whether a cell of this style shows a day or a time.
    is_of_time: Vec<bool>,
    texts: Vec<Box<str>>,
}

pub(super) fn read(archive: &mut Archive<'_>, wanted: Option<&str>) -> Result<SheetRead, Fault> {
    let root = relations(archive, "")?;
    let (_, main) = root
        .values()
        .find(|(kind, _)| kind == "officeDocument")
        .ok_or_else(|| Fault::Broken("it is no spreadsheet".to_owned()))?;
    let relations = relations(archive, main)?;
    let mut book = book(archive.part(main)?, &relations)?;
    let at = chosen(&book.names, wanted)?;
    let part_of = |kind: &str| relations.values().find(|(own, _)| own == kind).map(|(_, name)| name.as_str());
    if let Some(name) = part_of("styles") {
        book.is_of_time = styles(archive.part(name)?)?;
    }
    if let Some(name) = part_of("sharedStrings") {
        book.texts = texts(archive.part(name)?)?;
    }
    let sheet = book.sheets.get(at).and_then(|id| relations.get(id));
    let (_, name) = sheet.ok_or_else(|| Fault::Broken("a sheet of it has no part".to_owned()))?;
    let laid = cells(&mut archive.part(name)?, &book)?;
    Ok(SheetRead { name: book.names.get(at).cloned().unwrap_or_default(), names: book.names, laid })
}

/// Where a part's relations lead; those of the whole archive for no part.
fn relations(archive: &mut Archive<'_>, of: &str) -> Result<Relations, Fault> {
    let (folder, file) = of.rsplit_once('/').unwrap_or(("", of));
    let within = if folder.is_empty() { String::new() } else { format!("{folder}/") };
    let mut part = archive.part(&format!("{within}_rels/{file}.rels"))?;
    let mut relations = Relations::new();
    while let Some(event) = part.next()? {
        let Event::Start(start) = event else { continue };
        if start.local_name().as_ref() != "Relationship" {
            continue;
        }
        let [id, kind, target] = ["Id", "Type", "Target"].map(|name| attribute(&start, name));
        if let (Some(id), Some(kind), Some(target)) = (id, kind, target) {
            let kind = kind.rsplit('/').next().unwrap_or_default().to_owned();
            relations.insert(id, (kind, resolved(folder, &target)));
        }
    }
    Ok(relations)
}

/// A name as a part in `folder` writes it, from the archive's root.
fn resolved(folder: &str, target: &str) -> String {
    let whole = match target.strip_prefix('/') {
        Some(from_root) => from_root.to_owned(),
        None => format!("{folder}/{target}"),
    };
    let mut parts: Vec<&str> = Vec::new();
    for part in whole.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()),
            part => parts.push(part),
        }
    }
    parts.join("/")
}

fn book(mut part: ArchivePart<'_>, relations: &Relations) -> Result<Book, Fault> {
    let mut book = Book::default();
    while let Some(event) = part.next()? {
        let Event::Start(start) = event else { continue };
        match start.local_name().as_ref() {
            "workbookPr" => {
                book.is_1904 =
                    attribute(&start, "date1904").is_some_and(|value| ["1", "true"].contains(&value.as_str()));
            }
            "sheet" => {
                let (name, id) = (attribute(&start, "name").unwrap_or_default(), attribute(&start, "id"));
                // Diagrams may stand among the sheets.
                if let Some(id) = id.filter(|id| relations.get(id).is_some_and(|(kind, _)| kind == "worksheet")) {
                    book.names.push(name);
                    book.sheets.push(id);
                }
            }
            _ => {}
        }
    }
    Ok(book)
}

/// For each style of a cell, whether it shows a day or a time.
fn styles(mut part: ArchivePart<'_>) -> Result<Vec<bool>, Fault> {
    let mut own: BTreeMap<String, bool> = BTreeMap::new();
    let (mut styles, mut is_of_cells) = (Vec::new(), false);
    while let Some(event) = part.next()? {
        match event {
            Event::Start(start) => match start.local_name().as_ref() {
                "numFmt" => {
                    if let (Some(id), Some(code)) = (attribute(&start, "numFmtId"), attribute(&start, "formatCode")) {
                        own.insert(id, values::is_of_time(&code));
                    }
                }
                "cellXfs" => is_of_cells = true,
                "xf" if is_of_cells => {
                    let id = attribute(&start, "numFmtId").unwrap_or_default();
                    // The formats that need no code: 18.8.30 of the standard.
                    let is_known = matches!(id.parse(), Ok(14_u16..=22 | 45..=47));
                    styles.push(own.get(&id).copied().unwrap_or(is_known));
                }
                _ => {}
            },
            Event::End(end) if end.local_name().as_ref() == "cellXfs" => is_of_cells = false,
            _ => {}
        }
    }
    Ok(styles)
}

fn texts(mut part: ArchivePart<'_>) -> Result<Vec<Box<str>>, Fault> {
    let (mut texts, mut bytes) = (Vec::new(), 0_usize);
    while let Some(event) = part.next()? {
        if !matches!(&event, Event::Start(start) if start.local_name().as_ref() == "si") {
            continue;
        }
        let text = text(&mut part, "si")?;
        bytes = bytes.saturating_add(text.len());
        for (cap, count) in [(&PLAN_FILE, bytes), (&TABLE_CELLS, texts.len() + 1)] {
            if !u64::try_from(count).is_ok_and(|count| cap.takes(count)) {
                return Err(Fault::TooMuch(cap));
            }
        }
        texts.push(text.into_boxed_str());
    }
    Ok(texts)
}

/// The text inside of an element, up to its end; how it is pronounced left out.
fn text(part: &mut ArchivePart<'_>, of: &str) -> Result<String, Fault> {
    let (mut text, mut is_text, mut is_sound) = (String::new(), false, false);
    loop {
        let event = part.inside()?;
        match &event {
            Event::Start(start) => match start.local_name().as_ref() {
                "t" => is_text = true,
                "rPh" => is_sound = true,
                _ => {}
            },
            Event::End(end) => match end.local_name().as_ref() {
                "t" => is_text = false,
                "rPh" => is_sound = false,
                name if name == of => return Ok(text),
                _ => {}
            },
            _ if is_text && !is_sound => add_text(&event, &mut text),
            _ => {}
        }
    }
}

fn cells(part: &mut ArchivePart<'_>, book: &Book) -> Result<Laid, Fault> {
    let mut laid = Laid::default();
    let (mut row, mut column) = (0_usize, 0_usize);
    while let Some(event) = part.next()? {
        let start = match event {
            Event::Start(start) => start,
            Event::End(end) if end.local_name().as_ref() == "sheetData" => return Ok(laid),
            _ => continue,
        };
        // Rows and cells may say where they stand; else each follows the one before it.
        if start.local_name().as_ref() == "row" {
            let number = attribute(&start, "r").and_then(|number| number.parse().ok());
            row = number.unwrap_or_else(|| row.saturating_add(1));
            column = 0;
        } else if start.local_name().as_ref() == "c" {
            column = attribute(&start, "r").map_or(Ok(column), |place| column_of(&place))?;
            let kind = XlsxValue::of(&start, book);
            cell(part, &kind, (row.saturating_sub(1), column), book, &mut laid)?;
            column = column.saturating_add(1);
        }
    }
    Err(Fault::Broken("its sheet ends too soon".to_owned()))
}

/// The number of the column of `BC12`.
fn column_of(place: &str) -> Result<usize, Fault> {
    let letters = place.bytes().take_while(u8::is_ascii_alphabetic);
    let number = letters.fold(0_usize, |number, letter| {
        number.saturating_mul(26).saturating_add(usize::from(letter.to_ascii_uppercase() - b'A') + 1)
    });
    number.checked_sub(1).ok_or_else(|| Fault::Broken("a cell of it does not say where it stands".to_owned()))
}

/// What a cell's value is.
enum XlsxValue {
    Number,
    Day,
    Shared,
    Flag,
    Error,
    Iso,
    Text,
}

impl XlsxValue {
    fn of(start: &BytesStart<'_>, book: &Book) -> Self {
        match attribute(start, "t").as_deref() {
            None | Some("n") => {
                let style = attribute(start, "s").and_then(|style| style.parse::<usize>().ok());
                let is_day = style.and_then(|style| book.is_of_time.get(style)).copied().unwrap_or(false);
                if is_day { Self::Day } else { Self::Number }
            }
            Some("s") => Self::Shared,
            Some("b") => Self::Flag,
            Some("e") => Self::Error,
            Some("d") => Self::Iso,
            Some(_) => Self::Text,
        }
    }
}

fn cell(
    part: &mut ArchivePart<'_>,
    kind: &XlsxValue,
    (row, column): (usize, usize),
    book: &Book,
    laid: &mut Laid,
) -> Result<(), Fault> {
    let (mut value, mut is_value, mut has_value, mut has_formula) = (String::new(), false, false, false);
    loop {
        let event = part.inside()?;
        match &event {
            Event::Start(start) => match start.local_name().as_ref() {
                "v" => (is_value, has_value) = (true, true),
                "f" => has_formula = true,
                "is" => {
                    value = text(part, "is")?;
                    return finish(part, laid, (row, column), &value);
                }
                _ => {}
            },
            Event::End(end) => match end.local_name().as_ref() {
                "v" => is_value = false,
                "c" => break,
                _ => {}
            },
            _ if is_value => add_text(&event, &mut value),
            _ => {}
        }
    }
    if has_formula && !has_value {
        return laid.put_fault(row, column, "=", "holds a formula whose result is not in the file");
    }
    if value.trim().is_empty() {
        return Ok(());
    }
    let text = match kind {
        XlsxValue::Shared => {
            let text = value.trim().parse::<usize>().ok().and_then(|at| book.texts.get(at));
            text.ok_or_else(|| Fault::Broken("a cell of it names a text that is not there".to_owned()))?.to_string()
        }
        XlsxValue::Number => value.trim().parse().map_or(value, values::number),
        XlsxValue::Day => {
            let day = value.trim().parse().ok().and_then(|number| values::serial(number, book.is_1904));
            day.unwrap_or(value)
        }
        XlsxValue::Flag => if ["1", "true"].contains(&value.trim()) { "true" } else { "false" }.to_owned(),
        XlsxValue::Iso => values::iso(&value),
        XlsxValue::Error => return laid.put_fault(row, column, &value, "holds an error"),
        XlsxValue::Text => value,
    };
    laid.put(row, column, &text)
}

/// Puts a text that stands in the cell itself, and passes the cell's end.
fn finish(part: &mut ArchivePart<'_>, laid: &mut Laid, (row, column): (usize, usize), text: &str) -> Result<(), Fault> {
    while !matches!(part.inside()?, Event::End(end) if end.local_name().as_ref() == "c") {}
    laid.put(row, column, text)
}
