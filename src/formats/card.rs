//! ISO/IEC 7810 ID-1 cards, several on a sheet.

use super::grid::Grid;
use super::{Duplex, Format, Side, Stack, upright};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Card;

impl Format for Card {
    fn word(&self) -> &'static str {
        "card"
    }

    fn unit(&self) -> &'static str {
        "card"
    }

    fn margin(&self) -> Length {
        Length::mm(3)
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
        upright(paper)
    }

    fn panel(&self, _: Size, _: Length) -> Size {
        Size { width: Length::hundredths_mm(8560), height: Length::hundredths_mm(5398) }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<Side> {
        Grid::of_cards(stack).in_stacks()
    }
}
