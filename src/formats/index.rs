//! Index cards of 3 x 5 in, several on a sheet.

use super::card::Cards;
use super::lying;
use crate::ground::{Length, Size};

/// Index cards.
pub(super) const INDEX: Cards = Cards {
    word: "index",
    margin: Length::mm(5),
    page: lying,
    size: Size { width: Length::inches(5), height: Length::inches(3) },
};
