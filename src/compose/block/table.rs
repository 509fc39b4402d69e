//! Records in rows.

use super::{Role, Text};
use crate::ground::{Frequency, Span, Subject};

/// Records in rows.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Table {
    /// Stable key: `channels`. Layouts name tables by it.
    pub key: &'static str,
    /// The columns that compose emits; a layout decides which stand where.
    pub columns: Vec<Column>,
    /// One per record, in printing order.
    pub rows: Vec<Row>,
    /// What holds for every row that says nothing else: said once under the headings, a line each.
    pub said: Vec<Text>,
    /// Those of them that are of use only beside rows that lead on ([`Role::Next`]).
    pub said_of_next: Vec<Text>,
    /// Places in `rows`, counted from 0, of those that are the holder's own: a bar stands beside them.
    pub own: Vec<usize>,
    /// Said instead of rows when there are none ("no channel is assigned to you").
    pub when_empty: Text,
}

/// A column of a table.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Column {
    /// Stable key: `hear`.
    pub key: &'static str,
    /// Printed over it; empty where none is needed.
    pub heading: &'static str,
    /// Leaving it out of a layout is a finding.
    pub is_must: bool,
    /// What its cells are; words among numbers have a role of their own.
    pub role: Role,
    /// How its texts stand under each other.
    pub align: Align,
    /// Whether its texts stay on one line, so that it takes the width of the widest: others are broken for it.
    pub is_unbroken: bool,
    /// Whether it is left out where no row uses it.
    pub is_where_used: bool,
}

impl Align {
    /// From how many places on numbers stand point under point; none where they do not.
    #[must_use]
    pub const fn places(self) -> Option<usize> {
        match self {
            Self::Point(places) => Some(places),
            Self::Start | Self::End => None,
        }
    }
}

impl Column {
    /// A column that no layout may leave out. Frequencies and tones stand point under point; numbers, names and calls are not
    /// broken.
    #[must_use]
    pub const fn must(key: &'static str, heading: &'static str, role: Role) -> Self {
        let align = match role {
            Role::Hear | Role::Send => Align::Point(Frequency::MHZ_PLACES),
            Role::Tone => Align::Point(1),
            _ => Align::Start,
        };
        let is_unbroken = role.is_dialled() || matches!(role, Role::Number | Role::Name | Role::Call);
        Self { key, heading, is_must: true, role, align, is_unbroken, is_where_used: false }
    }

    /// A column that a layout may leave out.
    #[must_use]
    pub const fn may(key: &'static str, heading: &'static str, role: Role) -> Self {
        Self { is_must: false, ..Self::must(key, heading, role) }
    }

    /// The same column, left out where no row uses it.
    #[must_use]
    pub const fn where_used(self) -> Self {
        Self { is_where_used: true, ..self }
    }

    /// The same column, its texts otherwise under each other.
    #[must_use]
    pub const fn aligned(self, align: Align) -> Self {
        Self { align, ..self }
    }
}

/// How the texts of a column stand under each other.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Align {
    /// At their beginnings.
    Start,
    /// Numbers of at least so many places point under point, words at their beginnings. A number with fewer is in another unit:
    /// in rows it stands at its end, so that nobody reads one for the other; a grid has a word for the unit in the row.
    Point(usize),
    /// At their ends, where the column stands at the right edge of a row.
    End,
}

/// A record in a table.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Row {
    /// What a range of rows is named by ("Channels 1–8"): the row's number, or nothing.
    pub label: String,
    /// The record.
    pub record: Option<Subject>,
    /// Where the record begins.
    pub span: Span,
    /// By column key. A column without an entry has nothing to say in this row: layouts close the gap, no blank carries meaning.
    pub cells: Vec<(&'static str, Cell)>,
}

impl Row {
    /// The cell of a column.
    #[must_use]
    pub fn cell(&self, key: &str) -> Option<&Cell> {
        self.cells.iter().find(|(name, _)| *name == key).map(|(_, cell)| cell)
    }
}

/// One value in a row.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Cell {
    /// As printed.
    pub text: Text,
    /// What it is.
    pub role: Role,
    /// In base units for the canonical text, where the print is not the value (`146940000` for `146.9400`).
    pub base: Option<String>,
}
