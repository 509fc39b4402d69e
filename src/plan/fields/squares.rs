//! Squares to sketch on.

use super::{FieldKind, FieldRoom, Rows, rows};
use crate::ground::{At, Length, Words};
use crate::source::{Reading, record};

record! {
    /// Squares to sketch on.
    pub struct Squares = "field" {
        /// How wide a square is, as `5 mm`; no squares when left out.
        squares: Option<At<Length>>,
        /// Rows of squares; 10 when left out.
        square_lines: Option<At<Rows>>,
    }
}

impl FieldKind for Squares {
    const ASKED_BY: &'static str = "squares";

    fn is_asked(&self) -> bool {
        self.squares.is_some()
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        let square = self.squares.map(|square| square.value);
        FieldRoom {
            least: square,
            rows: rows(self.square_lines, 10),
            rows_key: Some("square-lines"),
            ..FieldRoom::empty("squares")
        }
    }
}
