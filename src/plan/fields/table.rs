//! A table with ruled rows: counted, or named by their labels, or one for each record of the plan.

use super::value::{RowSource, RowValue};
use super::{FieldColumn, FieldKind, FieldRoom, Rows, WHOLE, check_width, rows};
use crate::ground::{At, Finding, Span, Words, plural};
use crate::plan::rules::FORM_FIELD_UNCLEAR;
use crate::source::{Reading, Whole, record};

record! {
    /// A table with ruled rows.
    pub struct RuledTable = "field" {
        /// Columns of a ruled table, from left to right; no table when left out.
        columns: Vec<FormColumn>,
        /// The table's least number of rows; as many as it has row-labels, or 5, when left out.
        rows: Option<At<Rows>>,
        /// The rows by their names, printed in the first column, as `intensive care`; rows without names when left out.
        row_labels: Vec<At<Words>>,
        /// The records of the plan of which each is a row; empty rows alone when left out.
        rows_from: Option<At<RowSource>>,
        /// Whether the rows are numbered; false when left out.
        is_numbered as "numbered": bool,
        /// Whether the table goes on over pages, each with its headings; false when left out.
        is_continued as "continues": bool,
    }

    /// A column of a ruled table.
    pub struct FormColumn = "column" {
        /// Its heading, as `Name`.
        heading: At<Words>,
        /// Its part of the table's width, beside those of the other columns; all together have 60 at most, as `6`.
        share: At<Whole<u8, 1, 60>>,
        /// Boxes to tick in each row, as `yes`; room to write when left out.
        ticks: Vec<At<Words>>,
        /// What is printed in the rows from the first on, nothing where a text is empty, as `beds`; nothing when left out.
        cells: Vec<At<String>>,
        /// Whether it is added up in a last row; false when left out.
        is_summed as "total": bool,
        /// What is printed of each record, as `member.call`; room to write when left out.
        from: Option<At<RowValue>>,
    }
}

/// Into how many parts a table's width is divided at most: 3 mm on a page, the least in which a figure is written.
const PARTS: u8 = 60;

impl FieldKind for RuledTable {
    const ASKED_BY: &'static str = "columns";

    fn is_asked(&self) -> bool {
        !self.columns.is_empty()
    }

    fn room(self, label: &At<Words>, of: &mut Reading<'_>) -> FieldRoom {
        check_width(self.columns.iter().map(|column| column.share.value.get()), PARTS, label.span, of);
        let labels: Vec<String> = self.row_labels.iter().map(|label| label.to_string()).collect();
        let least = match u16::try_from(labels.len()).unwrap_or(u16::MAX) {
            0 => 5,
            named => named,
        };
        let count = rows(self.rows, least).max(if labels.is_empty() { 0 } else { least });
        self.check_cells(usize::from(count), of);
        self.check_values(of);
        // Rows that have names are all wanted.
        let rows_key = labels.is_empty().then_some("rows");
        FieldRoom {
            columns: self.columns.iter().map(column).collect(),
            rows: count,
            rows_key,
            row_labels: labels,
            rows_from: self.rows_from.map(|from| from.value),
            is_numbered: self.is_numbered,
            is_continued: self.is_continued,
            ..FieldRoom::empty("ruled")
        }
    }
}

fn column(column: &FormColumn) -> FieldColumn {
    FieldColumn {
        heading: column.heading.to_string(),
        share: column.share.value.get(),
        boxes: column.ticks.iter().map(|words| words.to_string()).collect(),
        cells: column.cells.iter().map(|words| words.value.clone()).collect(),
        is_summed: column.is_summed,
        from: column.from.map(|from| from.value),
    }
}

impl RuledTable {
    /// What is printed in rows that are not there would be lost.
    fn check_cells(&self, rows: usize, of: &mut Reading<'_>) {
        for column in &self.columns {
            if let Some(first) = column.cells.get(rows) {
                let what =
                    format!("\"{}\" has {} cells, and the table {rows} rows", column.heading.value, column.cells.len());
                unclear(first.span, &what, "write as many cells as there are rows, or fewer", of);
            }
        }
        // Of rows that have names each is meant: one with nothing in it says so by an empty text.
        for column in self.columns.iter().filter(|column| !column.cells.is_empty() && !self.row_labels.is_empty()) {
            let (cells, named) = (column.cells.len(), self.row_labels.len());
            if let Some(last) = column.cells.last().filter(|_| cells < named) {
                let cells = plural(cells, "cell");
                let what = format!("\"{}\" has {cells} for {named} named rows", column.heading.value);
                let help = "write one for each row, and \"\" where one writes by hand";
                unclear(last.span, &what, help, of);
            }
        }
        // The first column says how the rows are called.
        let named = self.columns.first().filter(|_| !self.row_labels.is_empty());
        if let Some(column) = named.filter(|column| !column.cells.is_empty() || !column.ticks.is_empty()) {
            let what = format!("the column \"{}\" has the row labels and something else", column.heading.value);
            unclear(column.heading.span, &what, "put a column before it for the labels", of);
        }
    }

    /// What is printed of each record is a value that such records have.
    fn check_values(&self, of: &mut Reading<'_>) {
        for column in &self.columns {
            let Some(from) = column.from else { continue };
            match self.rows_from {
                None => {
                    let what =
                        format!("`{}` is a value of each record, and the table names no records", from.value.word());
                    unclear(from.span, &what, "add `rows-from` beside `columns`", of);
                }
                Some(source) if !from.value.is_of(source.value) => {
                    let what = format!("{} have no `{}`", source.value.word(), from.value.word());
                    let own = RowValue::ALL.iter().filter(|value| value.is_of(source.value));
                    let own: Vec<&str> = own.map(|value| value.word()).collect();
                    unclear(from.span, &what, &format!("write one of {}", own.join(", ")), of);
                }
                Some(_) => {}
            }
        }
    }
}

fn unclear(span: Span, what: &str, help: &str, of: &mut Reading<'_>) {
    of.found.push(Finding::new(&FORM_FIELD_UNCLEAR, span, what).label("here").help(help));
}

/// A table that goes on over pages has its line for itself.
pub(in crate::plan) fn check_alone(is_continued: bool, share: u8, label: &At<Words>, of: &mut Reading<'_>) {
    if is_continued && share < WHOLE {
        let what = format!("\"{}\" goes on over pages, and takes {share} of 12 parts of its line", label.value);
        unclear(label.span, &what, "give it the whole line: leave `share` out", of);
    }
}
