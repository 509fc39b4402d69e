//! Boxes for single words, which are counted as they are written.

use super::{FieldKind, FieldRoom, Rows, rows};
use crate::ground::{At, Words};
use crate::source::{Reading, Whole, record};

record! {
    /// Boxes for single words.
    pub struct WordBoxes = "field" {
        /// Boxes for single words: how many a line, as `5`; no such boxes when left out.
        words: Option<At<Whole<u8, 1, 10>>>,
        /// Lines of word boxes; 5 when left out.
        word_lines: Option<At<Rows>>,
    }
}

impl FieldKind for WordBoxes {
    const ASKED_BY: &'static str = "words";

    fn is_asked(&self) -> bool {
        self.words.is_some()
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        let words = self.words.map_or(0, |words| words.value.get());
        FieldRoom { words, rows: rows(self.word_lines, 5), rows_key: Some("word-lines"), ..FieldRoom::empty("words") }
    }
}
