//! A look at a table that nobody has mapped yet: its sheets, with their first rows.

use super::csv;
use super::sheet::{self, Fault, Laid};
use crate::ground::FileId;

/// How many rows are looked at.
const ROWS: usize = 300;
/// How many sheets.
const SHEETS: usize = 20;

/// A sheet, or a whole CSV file.
pub struct Glance {
    /// The sheet's name; none of a CSV file.
    pub sheet: Option<String>,
    /// What parts the cells of a CSV file.
    pub separator: char,
    /// Its first rows, each with its number: that of its line in a CSV file.
    pub rows: Vec<(usize, Vec<String>)>,
}

/// Looks at the bytes of a file.
///
/// # Errors
/// When it is neither text nor a spreadsheet in an open form, with the reason.
pub fn glance(bytes: &[u8]) -> Result<Vec<Glance>, String> {
    let said = |fault: Fault| match fault {
        Fault::Broken(why) => why,
        Fault::TooMuch(cap) => format!("it has more than {} {}", cap.most, cap.of),
        Fault::NoSuch(_) => "a sheet of it is missing".to_owned(),
    };
    if !sheet::is_spreadsheet(bytes) {
        let text = std::str::from_utf8(bytes).map_err(|_| "it is not UTF-8 text, and no spreadsheet".to_owned())?;
        return of_text(text.trim_start_matches('\u{feff}')).map(|one| vec![one]).map_err(said);
    }
    let first = sheet::read(bytes, None).map_err(said)?;
    let names = first.names.into_iter().take(SHEETS);
    names.map(|name| sheet::read(bytes, Some(&name)).map(of_sheet).map_err(said)).collect()
}

fn of_sheet(sheet: sheet::SheetRead) -> Glance {
    let text = sheet.laid.text.as_str();
    let rows = rows(&sheet.laid, text, &|cell| cell.to_owned());
    Glance {
        sheet: Some(sheet.name),
        separator: ',',
        rows: rows.into_iter().map(|(row, _, cells)| (row + 1, cells)).collect(),
    }
}

/// A CSV file, parted by the mark that parts its first rows into most cells.
fn of_text(text: &str) -> Result<Glance, Fault> {
    let mut best: Option<(usize, u8, Laid)> = None;
    for separator in [b',', b';', b'\t'] {
        let laid = csv::lay(text, separator)?;
        let cells = (0..laid.height().min(5)).map(|row| laid.row(FileId(0), text, row).count()).max().unwrap_or(0);
        if best.as_ref().is_none_or(|(most, ..)| cells > *most) {
            best = Some((cells, separator, laid));
        }
    }
    let Some((_, separator, laid)) = best else { return Err(Fault::Broken("it is empty".to_owned())) };
    let lines = |start: usize| text.get(..start).unwrap_or_default().matches('\n').count() + 1;
    let rows = rows(&laid, text, &|cell| csv::said(cell, separator).into_owned());
    let rows = rows.into_iter().map(|(_, start, cells)| (lines(start), cells)).collect();
    Ok(Glance { sheet: None, separator: char::from(separator), rows })
}

/// The first rows that are not empty: number, first byte, cells.
fn rows(laid: &Laid, text: &str, said: &dyn Fn(&str) -> String) -> Vec<(usize, usize, Vec<String>)> {
    let row = |row: usize| {
        let cells: Vec<_> = laid.row(FileId(0), text, row).collect();
        let start = usize::try_from(cells.first()?.span.start).ok()?;
        let is_filled = cells.iter().any(|cell| !cell.text.is_empty());
        is_filled.then(|| (row, start, cells.iter().map(|cell| said(cell.text)).collect()))
    };
    (0..laid.height()).filter_map(row).take(ROWS).collect()
}
