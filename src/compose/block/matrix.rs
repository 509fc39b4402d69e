//! Signs or words by row and column.

use super::Text;
use crate::ground::{Span, Subject};

/// Signs or words by row and column, with how many there are of a sign.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Matrix {
    /// Stable key: `eligibility`.
    pub key: &'static str,
    /// Over what stands at the left of each row.
    pub heads: Vec<&'static str>,
    /// From left to right.
    pub columns: Vec<MatrixColumn>,
    /// From top to bottom.
    pub rows: Vec<MatrixRow>,
    /// The signs that are counted, by row and by column.
    pub counted: Vec<Sign>,
    /// What the counts of a column are of: "people, of 30".
    pub counts: Text,
    /// What each sign means, and what short words in it do.
    pub legend: Vec<(Option<Sign>, Text)>,
}

/// A column of a matrix.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct MatrixColumn {
    /// The number that it is called by; empty where it has none.
    pub number: String,
    /// The name one looks up.
    pub name: Text,
    /// What stands below the name, a line each.
    pub lines: Vec<Text>,
}

/// A row of a matrix.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct MatrixRow {
    /// What a range of rows is named by.
    pub label: String,
    /// What stands at its left, one for each head.
    pub head: Vec<Text>,
    /// One for each column.
    pub cells: Vec<MatrixCell>,
    /// Said below it.
    pub notes: Vec<Text>,
    /// Whether rows of another kind begin with it.
    pub begins: bool,
    /// The record.
    pub record: Option<Subject>,
    /// Where the record begins.
    pub span: Span,
}

/// What stands where a row and a column meet. No blank carries meaning.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum MatrixCell {
    /// A sign of the legend.
    Sign(Sign),
    /// Words.
    Words(Text),
}

impl MatrixCell {
    /// The sign, where it is one.
    #[must_use]
    pub const fn sign(&self) -> Option<Sign> {
        match self {
            Self::Sign(sign) => Some(*sign),
            Self::Words(_) => None,
        }
    }
}

/// The signs of a matrix, from the heaviest to the lightest.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Sign {
    /// A filled square.
    Filled,
    /// A ring.
    Ring,
    /// A small dot.
    Dot,
    /// A dash.
    Dash,
}

impl Sign {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Filled => "square",
            Self::Ring => "ring",
            Self::Dot => "dot",
            Self::Dash => "dash",
        }
    }
}

impl Matrix {
    /// What a sign means; no words where the legend has it not.
    #[must_use]
    pub fn meaning(&self, sign: Sign) -> String {
        let known = self.legend.iter().find(|(known, _)| *known == Some(sign));
        known.map(|(_, words)| words.words()).unwrap_or_default()
    }

    /// Whether all cells are signs: then columns are as narrow as a sign.
    #[must_use]
    pub fn is_of_signs(&self) -> bool {
        self.rows.iter().flat_map(|row| &row.cells).all(|cell| cell.sign().is_some())
    }

    /// How often a sign stands in a column.
    #[must_use]
    pub fn count(&self, column: usize, sign: Sign) -> usize {
        self.rows.iter().filter(|row| row.cells.get(column).and_then(MatrixCell::sign) == Some(sign)).count()
    }
}

impl MatrixRow {
    /// How often a sign stands in the row.
    #[must_use]
    pub fn count(&self, sign: Sign) -> usize {
        self.cells.iter().filter(|cell| cell.sign() == Some(sign)).count()
    }
}
