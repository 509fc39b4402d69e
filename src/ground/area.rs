//! Points and areas on a panel or page. Origin top left, y downwards.

use super::Length;

/// A point on a panel or page.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Point {
    /// From the left edge.
    pub x: Length,
    /// From the top edge.
    pub y: Length,
}

/// Width and height.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Size {
    /// From left to right.
    pub width: Length,
    /// From top to bottom.
    pub height: Length,
}

/// An upright rectangle.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Area {
    /// Left edge.
    pub left: Length,
    /// Top edge.
    pub top: Length,
    /// Right edge.
    pub right: Length,
    /// Bottom edge.
    pub bottom: Length,
}

impl Area {
    /// From left to right.
    #[must_use]
    pub fn width(&self) -> Length {
        self.right - self.left
    }
    /// From top to bottom.
    #[must_use]
    pub fn height(&self) -> Length {
        self.bottom - self.top
    }
    /// Whether two share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }
    /// Whether `other` lies inside, edges included.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left && self.top <= other.top && self.right >= other.right && self.bottom >= other.bottom
    }
}
