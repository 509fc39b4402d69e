//! Lines to write on.

use super::{FieldKind, FieldRoom, Rows, rows};
use crate::ground::{At, Words};
use crate::source::{Reading, record};

record! {
    /// Lines to write on.
    pub struct WritingLines = "field" {
        /// Writing lines; 1, where no other kind of room is asked for, when left out.
        lines: Option<At<Rows>>,
    }
}

impl FieldKind for WritingLines {
    const ASKED_BY: &'static str = "lines";

    fn is_asked(&self) -> bool {
        self.lines.is_some()
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        FieldRoom::lines(rows(self.lines, 1))
    }
}

impl FieldRoom {
    /// So many lines to write on.
    #[must_use]
    pub fn lines(rows: u16) -> Self {
        Self { rows, rows_key: Some("lines"), ..Self::empty("lines") }
    }
}
