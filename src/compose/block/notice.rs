//! A sign to put up.

use super::Text;

/// A sign to put up: it has a page of its own, and its words are as large as there is room.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Notice {
    /// What one reads from across the room.
    pub words: Text,
    /// Below it, a line each: in words also where the arrow points.
    pub lines: Vec<Text>,
    /// Drawn below all.
    pub arrow: Option<Arrow>,
}

/// Where a drawn arrow points.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Arrow {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Straight on.
    Ahead,
}

impl Arrow {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "to the left",
            Self::Right => "to the right",
            Self::Ahead => "straight on",
        }
    }
}
