//! Something to write on.

use super::{Cell, Text};
use crate::plan::FieldRoom;

/// A sheet to write on: lines of fields in reading order.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FormBlock {
    /// One line of fields after the other, top to bottom.
    pub lines: Vec<FieldLine>,
}

/// Fields side by side. Their shares of the width add up to 12 or less.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FieldLine {
    /// Printed over it under a heavy rule.
    pub title: Option<Text>,
    /// Whether it begins a page.
    pub begins_page: bool,
    /// Whether it stands outside the frame of the lines above it.
    pub is_added: bool,
    /// Left to right.
    pub fields: Vec<FieldBlock>,
}

/// One field to fill in.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FieldBlock {
    /// Number or letter in reading order, as spoken ("field 7").
    pub number: Option<String>,
    /// Printed small in the field's corner.
    pub label: Text,
    /// Help printed after the label in small type.
    pub help: Option<Text>,
    /// Twelfths of the line's width.
    pub share: u8,
    /// What one writes into.
    pub room: FieldRoom,
    /// Printed in it beforehand.
    pub filled: Option<Text>,
    /// Words of its boxes that are ticked beforehand.
    pub ticked: Vec<String>,
    /// Printed in its rows beforehand, from the first on: a cell for each column of a table, none to write in; a word for each box; or one
    /// on each line.
    pub cells: Vec<Vec<Option<Cell>>>,
}
