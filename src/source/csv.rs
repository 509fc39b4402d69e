//! CSV: where the cells of a text stand, and what they say.

use super::sheet::{Fault, Laid};
use csv_core::{ReadFieldResult, Reader, ReaderBuilder};
use std::borrow::Cow;

fn reader(separator: u8) -> Reader {
    ReaderBuilder::new().delimiter(separator).build()
}

/// The cells of a text; quotes belong to a cell's place, not to what it says.
pub(super) fn lay(text: &str, separator: u8) -> Result<Laid, Fault> {
    let (mut laid, mut reader, bytes) = (Laid::default(), reader(separator), text.as_bytes());
    let (mut at, mut start, mut is_first) = (0, 0, true);
    let mut output = [0_u8; 1024];
    loop {
        let (result, taken, _) = reader.read_field(bytes.get(at..).unwrap_or_default(), &mut output);
        at += taken;
        match result {
            ReadFieldResult::InputEmpty | ReadFieldResult::OutputFull => {}
            ReadFieldResult::Field { record_end } => {
                let (from, to) = edges(bytes, start, at, separator);
                laid.add(from, to, is_first)?;
                (start, is_first) = (at, record_end);
            }
            ReadFieldResult::End => return Ok(laid),
        }
    }
}

/// A cell without what parts it from others.
fn edges(bytes: &[u8], mut start: usize, mut end: usize, separator: u8) -> (usize, usize) {
    let is_edge =
        |byte: Option<&u8>| byte.is_some_and(|b| *b == separator || matches!(b, b'\n' | b'\r' | b' ' | b'\t'));
    while start < end && is_edge(bytes.get(end - 1)) {
        end -= 1;
    }
    while start < end && is_edge(bytes.get(start)) {
        start += 1;
    }
    (start, end)
}

/// What a cell says, its quotes read.
pub(super) fn said(cell: &str, separator: u8) -> Cow<'_, str> {
    if !cell.contains('"') {
        return cell.into();
    }
    let (mut reader, mut text) = (reader(separator), Vec::new());
    let (mut rest, mut output) = (cell.as_bytes(), [0_u8; 1024]);
    loop {
        let (result, taken, written) = reader.read_field(rest, &mut output);
        rest = rest.get(taken..).unwrap_or_default();
        text.extend_from_slice(output.get(..written).unwrap_or_default());
        if matches!(result, ReadFieldResult::Field { .. } | ReadFieldResult::End) {
            return String::from_utf8_lossy(&text).trim().to_owned().into();
        }
    }
}
