//! A table as it lies in a text: a line for each row, and where each cell begins and ends.

use super::Fault;
use crate::ground::caps::{Cap, PLAN_FILE, TABLE_CELLS, TABLE_COLUMNS, TABLE_ROWS};
use crate::ground::{CellGrid, FileId, Span};
use std::collections::BTreeMap;

/// The cells of a table, in the order of its text.
#[derive(Default)]
pub struct Laid {
    /// The text of a sheet; none of a CSV file, whose own it is.
    pub text: String,
    starts: Vec<u32>,
    ends: Vec<u32>,
    /// For each row, the first of its cells.
    rows: Vec<u32>,
    /// Why a cell has no value that could be taken.
    faults: BTreeMap<u32, String>,
}

/// A cell of a table.
#[derive(Clone, Copy)]
pub struct LaidCell<'a> {
    /// Its text.
    pub text: &'a str,
    /// Its place.
    pub span: Span,
    /// Why it has no value that could be taken.
    pub fault: Option<&'a str>,
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn taken(cap: &'static Cap, count: usize) -> Result<(), Fault> {
    if u64::try_from(count).is_ok_and(|count| cap.takes(count)) { Ok(()) } else { Err(Fault::TooMuch(cap)) }
}

impl Laid {
    /// Puts a value into a cell of a sheet; rows and columns are counted from none, and come in order.
    pub(super) fn put(&mut self, row: usize, column: usize, value: &str) -> Result<(), Fault> {
        let value = value.trim();
        if value.is_empty() {
            return Ok(());
        }
        self.reach(row, column)?;
        let is_odd = |c: char| c.is_control();
        self.text.extend(value.chars().map(|c| if is_odd(c) { ' ' } else { c }));
        taken(&PLAN_FILE, self.text.len())?;
        if let Some(end) = self.ends.last_mut() {
            *end = count(self.text.len());
        }
        Ok(())
    }

    /// The same for what is no value: the text is shown, and the reason told where the cell is wanted.
    pub(super) fn put_fault(&mut self, row: usize, column: usize, shown: &str, why: &str) -> Result<(), Fault> {
        self.put(row, column, shown)?;
        self.faults.insert(count(self.starts.len() - 1), why.to_owned());
        Ok(())
    }

    /// Begins the cell, with empty ones and empty lines before it.
    fn reach(&mut self, row: usize, column: usize) -> Result<(), Fault> {
        taken(&TABLE_ROWS, row.saturating_add(1))?;
        taken(&TABLE_COLUMNS, column.saturating_add(1))?;
        let is_behind = self.rows.len() > row + 1 || (self.rows.len() == row + 1 && self.width() > column);
        if is_behind {
            return Err(Fault::Broken("its cells are out of order".to_owned()));
        }
        while self.rows.len() <= row {
            if !self.rows.is_empty() {
                self.text.push('\n');
            }
            self.rows.push(count(self.starts.len()));
        }
        while self.width() <= column {
            if self.width() > 0 {
                self.text.push('\t');
            }
            self.begin(self.text.len(), self.text.len());
        }
        taken(&TABLE_CELLS, self.starts.len())
    }

    /// How many cells the last row has.
    fn width(&self) -> usize {
        let first = self.rows.last().map_or(0, |first| usize::try_from(*first).unwrap_or(usize::MAX));
        self.starts.len().saturating_sub(first)
    }

    fn begin(&mut self, start: usize, end: usize) {
        self.starts.push(count(start));
        self.ends.push(count(end));
    }

    /// Adds a cell of a file that has its own text; with it a row begins or goes on.
    pub fn add(&mut self, start: usize, end: usize, is_first: bool) -> Result<(), Fault> {
        if is_first {
            taken(&TABLE_ROWS, self.rows.len() + 1)?;
            self.rows.push(count(self.starts.len()));
        }
        self.begin(start, end);
        taken(&TABLE_COLUMNS, self.width())?;
        taken(&TABLE_CELLS, self.starts.len())
    }

    /// How many rows there are.
    #[must_use]
    pub fn height(&self) -> usize {
        self.rows.len()
    }

    /// The cells of a row, counted from none.
    pub fn row<'a>(&'a self, file: FileId, text: &'a str, row: usize) -> impl Iterator<Item = LaidCell<'a>> {
        let at = |row: usize| self.rows.get(row).and_then(|first| usize::try_from(*first).ok());
        let range = at(row).map_or(0..0, |first| first..at(row + 1).unwrap_or(self.starts.len()));
        range.filter_map(move |cell| {
            let [start, end] = [&self.starts, &self.ends].map(|list| list.get(cell).map(|at| usize::try_from(*at)));
            let (start, end) = (start?.ok()?, end?.ok()?);
            let fault = self.faults.get(&count(cell)).map(String::as_str);
            Some(LaidCell { text: text.get(start..end)?, span: Span::new(file, start, end), fault })
        })
    }

    /// Where the cells stand, for findings.
    #[must_use]
    pub fn into_grid(self, headings: Vec<String>, is_sheet: bool) -> CellGrid {
        CellGrid { cells: self.starts, rows: self.rows, headings, is_sheet }
    }
}
