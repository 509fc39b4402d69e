//! Words that are printed, with nothing to write.

use super::{FieldKind, FieldRoom};
use crate::ground::{At, Words};
use crate::source::{Reading, record};

record! {
    /// Words that are printed.
    pub struct Printed = "field" {
        /// Printed in the field in place of room to write, as `Say "break" after five words.`; room to write when left
        /// out.
        text: Option<At<Words>>,
    }
}

impl FieldKind for Printed {
    const ASKED_BY: &'static str = "text";

    fn is_asked(&self) -> bool {
        self.text.is_some()
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        let printed = self.text.map(|text| text.to_string()).unwrap_or_default();
        FieldRoom { printed, ..FieldRoom::empty("text") }
    }
}
