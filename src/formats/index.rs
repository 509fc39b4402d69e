//! Index cards of 3 x 5 in, several on a sheet.

use super::grid::Grid;
use super::{Duplex, Format, Side, Stack, lying};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Index;

impl Format for Index {
    fn word(&self) -> &'static str {
        "index"
    }

    fn unit(&self) -> &'static str {
        "card"
    }

    fn margin(&self) -> Length {
        Length::mm(5)
    }

    /// Cards never touch the sheet's edge.
    fn least_margin(&self) -> Length {
        Length::mm(3)
    }

    fn has_panels(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &Duplex::ALL
    }

    fn band_margin(&self) -> Option<Length> {
        Some(Length::mm(8))
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, _: Size, _: Length) -> Size {
        Size { width: Length::inches(5), height: Length::inches(3) }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<Side> {
        Grid::of_cards(stack).in_stacks()
    }
}
