//! Spreadsheets -> one sheet as a text of lines and cells. Nothing that a file says of its own size is believed: parts are unpacked as
//! they are read, and counted.

mod archive;
mod laid;
mod ods;
mod values;
mod xlsx;

pub use laid::{Laid, LaidCell};

use crate::ground::caps::Cap;
use archive::Archive;

/// One sheet.
pub struct SheetRead {
    /// Its name.
    pub name: String,
    /// The names of all sheets, in the order of the file.
    pub names: Vec<String>,
    /// Its cells.
    pub laid: Laid,
}

/// Why no sheet could be read.
#[derive(Debug)]
pub enum Fault {
    /// What is wrong with the file, after its name: `it holds no sheet`.
    Broken(String),
    /// More of something than is taken.
    TooMuch(&'static Cap),
    /// No sheet has the name that is wanted; these are there.
    NoSuch(Vec<String>),
}

impl Fault {
    fn part(name: &str, why: &str) -> Self {
        Self::Broken(format!("its part {name} {why}"))
    }
}

/// Whether bytes are those of a spreadsheet, of whatever kind: text never begins so.
#[must_use]
pub fn is_spreadsheet(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK") || is_old(bytes)
}

/// The container of the binary kinds, and of the newer kinds under a password.
fn is_old(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0])
}

/// Reads the sheet of this name, or the first.
///
/// # Errors
/// When it is no spreadsheet in one of the two open forms, has no such sheet, or is more than is taken.
pub fn read(bytes: &[u8], wanted: Option<&str>) -> Result<SheetRead, Fault> {
    if is_old(bytes) {
        return Err(Fault::Broken("it is a spreadsheet of the older form, or under a password".to_owned()));
    }
    let mut archive = Archive::open(bytes)?;
    if archive.has("content.xml") { ods::read(&mut archive, wanted) } else { xlsx::read(&mut archive, wanted) }
}

/// Which sheet is meant: its number.
fn chosen(names: &[String], wanted: Option<&str>) -> Result<usize, Fault> {
    if names.is_empty() {
        return Err(Fault::Broken("it holds no sheet".to_owned()));
    }
    let at = wanted.map_or(Some(0), |wanted| names.iter().position(|name| name.trim() == wanted.trim()));
    at.ok_or_else(|| Fault::NoSuch(names.to_vec()))
}
