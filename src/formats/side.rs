//! Sides of sheets, with panels at their places.

use super::Duplex;
use crate::ground::{Area, Length, Point, Size};
use std::ops::Range;

/// Length of crop and fold marks.
pub(super) const MARK: Length = Length::mm(3);

/// What is to be placed.
#[derive(Clone, Copy, Debug)]
pub struct Stack<'a> {
    /// The page, as shown.
    pub page: Size,
    /// Outer size of a panel.
    pub panel: Size,
    /// How high the band at the bottom is.
    pub band: Length,
    /// The panels of each holder, counted from 0: a leaf, a sheet or a booklet is nobody else's.
    pub holders: &'a [Range<usize>],
    /// How the printer turns the sheet.
    pub duplex: Duplex,
    /// How often every panel is wanted.
    pub copies: usize,
}

impl Stack<'_> {
    /// The whole of a page.
    pub(super) const fn whole(&self) -> Area {
        Area { left: Length::ZERO, top: Length::ZERO, right: self.page.width, bottom: self.page.height }
    }

    /// A side for each panel, which takes all of the page.
    pub(super) fn pages(&self) -> Vec<PaperSide> {
        let placed = |panel| vec![Placed { panel, at: Point::default(), is_turned: false }];
        let side = |panel| PaperSide { trim: self.whole(), placed: placed(panel), guides: Vec::new() };
        self.printed(self.holders.iter().flat_map(Clone::clone).map(side).collect())
    }

    /// All sides as often as there are copies.
    pub(super) fn printed(&self, sides: Vec<PaperSide>) -> Vec<PaperSide> {
        std::iter::repeat_n(sides, self.copies).flatten().collect()
    }
}

/// One side of a sheet of paper.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaperSide {
    /// What is left of it when all is cut; the whole page where nothing is.
    pub trim: Area,
    /// Panels on it, in reading order.
    pub placed: Vec<Placed>,
    /// Where it is folded and cut.
    pub guides: Vec<Guide>,
}

/// A panel on a page.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Placed {
    /// Which of the panels, counted from 0.
    pub panel: usize,
    /// Where its top left corner comes to lie; when turned, where its bottom right corner (now top left) does.
    pub at: Point,
    /// Turned by half a circle.
    pub is_turned: bool,
}

/// A thin line by which one folds or cuts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Guide {
    /// One end.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// Dashed where one cuts through the middle of a sheet.
    pub is_dashed: bool,
}

impl Guide {
    /// A lying line.
    pub(super) const fn across(left: Length, right: Length, y: Length) -> Self {
        Self { from: Point { x: left, y }, to: Point { x: right, y }, is_dashed: false }
    }

    /// An upright line.
    pub(super) const fn down(x: Length, top: Length, bottom: Length) -> Self {
        Self { from: Point { x, y: top }, to: Point { x, y: bottom }, is_dashed: false }
    }
}
