//! Something to write on.

use super::Text;

/// A sheet to write on: lines of fields in reading order.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Form {
    /// One line of fields after the other, top to bottom.
    pub lines: Vec<FormLine>,
}

/// Fields side by side. Their shares of the width add up to 12 or less.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FormLine {
    /// Left to right.
    pub fields: Vec<FormField>,
}

/// One field to fill in.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FormField {
    /// Number in reading order, as spoken ("field 7").
    pub number: Option<u16>,
    /// Printed small in the field's corner.
    pub label: Text,
    /// Help printed after the label in small type.
    pub help: Option<Text>,
    /// Twelfths of the line's width.
    pub share: u8,
    /// What one writes into.
    pub kind: FieldKind,
    /// Printed in it beforehand.
    pub filled: Option<Text>,
}

/// What a field offers to write into.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum FieldKind {
    /// Writing lines of at least 7 mm.
    Lines(u8),
    /// Boxes to tick, with their words.
    Ticks(Vec<String>),
    /// Boxes for single words with running totals: `columns` a line, `rows` lines.
    Words {
        /// Words a line.
        columns: u8,
        /// Lines.
        rows: u8,
    },
    /// A ruled table: headings with their twelfths, and a number of empty rows; `fill` makes it take what is left of the page.
    Ruled {
        /// Headings and their twelfths.
        columns: Vec<(String, u8)>,
        /// Least number of rows.
        rows: u8,
        /// Whether rows are added until the page is full.
        is_filling: bool,
    },
}
