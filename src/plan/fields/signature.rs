//! A line to sign on.

use super::{FieldKind, FieldRoom};
use crate::ground::{At, Length, Words};
use crate::source::{Reading, record};

/// A name written by hand is higher than a line of writing.
const HIGH: Length = Length::mm(10);

record! {
    /// A line to sign on.
    pub struct SignatureField = "field" {
        /// Whether one signs there; false when left out.
        is_signed as "signature": bool,
    }
}

impl FieldKind for SignatureField {
    const ASKED_BY: &'static str = "signature";

    fn is_asked(&self) -> bool {
        self.is_signed
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        FieldRoom { rows: 1, least: Some(HIGH), ..FieldRoom::empty("signature") }
    }
}
