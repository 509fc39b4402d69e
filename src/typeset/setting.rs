//! A block set at a width, before it has a place.

use super::mark::Mark;
use crate::ground::Length;

/// Marks from a top left corner at zero, and how much of the page they take.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Setting {
    /// In reading order.
    pub marks: Vec<Mark>,
    /// From the top to where the next block may begin.
    pub height: Length,
}
