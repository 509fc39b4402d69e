//! Rows to write on: what is measured or tried where the sheet is used.

use super::block::{Block, Cell, FieldBlock, FieldLine, FormBlock, Role, Text};
use crate::plan::{FieldColumn, FieldRoom};

/// So many rows stand on half a page.
const MOST_ON_PAGE: u16 = 14;

/// A table under a heading, with columns by their parts of the width; rows are added until the page is full.
pub(super) fn rows_to_write(label: &str, columns: &[(&str, u8)], least: u16) -> Block {
    ruled(label, columns, Vec::new(), least)
}

/// The same with the first cells of its first rows printed; a row of none is one to write on.
pub(super) fn rows_about(label: &str, columns: &[(&str, u8)], printed: Vec<Vec<Text>>) -> Block {
    let rows = u16::try_from(printed.len()).unwrap_or(u16::MAX);
    ruled(label, columns, printed, rows)
}

/// The same, row by row over as many pages as it takes, the last of them filled.
pub(super) fn rows_called(label: &str, columns: &[(&str, u8)], printed: Vec<Vec<Text>>) -> Block {
    let mut block = rows_about(label, columns, printed);
    if let Block::Form(form) = &mut block {
        for room in form.lines.iter_mut().flat_map(|line| &mut line.fields).map(|field| &mut field.room) {
            (room.is_filling, room.is_continued) = (true, true);
        }
    }
    block
}

fn ruled(label: &str, columns: &[(&str, u8)], printed: Vec<Vec<Text>>, rows: u16) -> Block {
    let columns: Vec<FieldColumn> =
        columns.iter().map(|(heading, share)| FieldColumn::new((*heading).to_owned(), *share)).collect();
    let width = columns.len();
    let cell = |text: Text| Cell { text, role: Role::Body, base: None };
    let row = |printed: Vec<Text>| {
        let said = printed.into_iter().map(|text| Some(cell(text)));
        said.chain(std::iter::repeat_with(|| None)).take(width).collect()
    };
    let cells = printed.into_iter().map(row).collect();
    // More than stand on a page go on over pages.
    let is_continued = rows > MOST_ON_PAGE;
    let room = FieldRoom { columns, rows, is_filling: !is_continued, is_continued, ..FieldRoom::empty("ruled") };
    let field = FieldBlock {
        number: None,
        label: Text::own(label),
        help: None,
        share: 12,
        room,
        filled: None,
        ticked: Vec::new(),
        cells,
    };
    let line = FieldLine { title: None, begins_page: false, is_added: false, fields: vec![field] };
    Block::Form(FormBlock { lines: vec![line] })
}
