//! Cards, several on a sheet; ID-1 among them (ISO/IEC 7810).

use super::grid::Grid;
use super::{Duplex, Format, PaperSide, Stack, upright};
use crate::ground::{Length, Size};
use crate::tables::Paper;

/// Cards of one size.
pub(super) struct Cards {
    /// As layouts write the format.
    pub word: &'static str,
    /// From a card's edge to its text.
    pub margin: Length,
    /// How the sheet lies.
    pub page: fn(&Paper) -> Size,
    /// Of one card.
    pub size: Size,
}

/// ISO/IEC 7810, ID-1.
pub(super) const CARD: Cards = Cards {
    word: "card",
    margin: Length::mm(3),
    page: upright,
    size: Size { width: Length::hundredths_mm(8560), height: Length::hundredths_mm(5398) },
};

impl Format for Cards {
    fn word(&self) -> &'static str {
        self.word
    }

    fn unit(&self) -> &'static str {
        "card"
    }

    fn margin(&self) -> Length {
        self.margin
    }

    /// Cards never touch the sheet's edge.
    fn least_margin(&self) -> Length {
        Length::mm(3)
    }

    fn has_panels(&self) -> bool {
        true
    }

    fn mixes_holders(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &Duplex::ALL
    }

    fn band_margin(&self) -> Option<Length> {
        Some(Length::mm(8))
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        (self.page)(paper)
    }

    fn panel(&self, _: Size, _: Length) -> Size {
        self.size
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        Grid::of_cards(stack).in_stacks()
    }
}
