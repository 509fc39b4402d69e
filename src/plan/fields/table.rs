//! A table with ruled rows.

use super::{FieldColumn, FieldKind, FieldRoom, Rows, check_width, rows};
use crate::ground::{At, Words};
use crate::source::{Reading, Whole, record};

record! {
    /// A table with ruled rows.
    pub struct RuledTable = "field" {
        /// Columns of a ruled table, from left to right; no table when left out.
        columns: Vec<FormColumn>,
        /// The table's least number of rows; 5 when left out.
        rows: Option<At<Rows>>,
        /// Whether its rows fill the page; false when left out.
        is_filling as "fill": bool,
    }

    /// A column of a ruled table.
    pub struct FormColumn = "column" {
        /// Its heading, as `Name`.
        heading: At<Words>,
        /// Twelfths of the table's width; those of all columns add up to 12 at most, as `6`.
        share: At<Whole<u8, 1, 12>>,
    }
}

impl FieldKind for RuledTable {
    const ASKED_BY: &'static str = "columns";

    fn is_asked(&self) -> bool {
        !self.columns.is_empty()
    }

    fn room(self, label: &At<Words>, of: &mut Reading<'_>) -> FieldRoom {
        check_width(self.columns.iter().map(|column| column.share.value.get()), label.span, of);
        let column =
            |column: &FormColumn| FieldColumn { heading: column.heading.to_string(), share: column.share.value.get() };
        let columns = self.columns.iter().map(column).collect();
        FieldRoom {
            columns,
            rows: rows(self.rows, 5),
            rows_key: Some("rows"),
            is_filling: self.is_filling,
            ..FieldRoom::empty("ruled")
        }
    }
}
