//! How paper is parted: which page, which panels on it, where they stand, and how the sheet is folded or cut.
//!
//! A format is one file here and one line in [`FORMATS`].

mod booklet;
mod card;
mod duplex;
mod fold;
mod fold_4;
mod fold_8;
mod full;
mod grid;
mod half;
mod index;
mod pad;
mod side;
#[cfg(test)]
mod tests;
mod wall;

pub use duplex::Duplex;
pub use side::{Guide, PaperSide, Placed, Stack};

use crate::ground::{Length, Size};
use crate::tables::Paper;
use std::fmt;

/// A format of paper.
pub trait Format: Sync {
    /// As layouts write it.
    fn word(&self) -> &'static str;

    /// What a panel is called.
    fn unit(&self) -> &'static str;

    /// White around the text of a panel, where the layout asks for no more.
    fn margin(&self) -> Length;

    /// Least white around the text: 5 mm at a sheet's edge, which is 3 mm and more beside a fold or cut.
    fn least_margin(&self) -> Length {
        Length::mm(5)
    }

    /// Whether a section begins on a panel of its own; on pages they follow each other.
    fn has_panels(&self) -> bool {
        false
    }

    /// Whether a panel is a whole page: its foot is one line with the number of the page, and what is said once stands on the first alone.
    fn is_whole(&self) -> bool {
        false
    }

    /// White at the left of a panel, where its sheets are punched; none more than elsewhere where they are not.
    fn binding(&self) -> Option<Length> {
        None
    }

    /// Whether a sheet may bear panels of two holders.
    fn mixes_holders(&self) -> bool {
        false
    }

    /// Whether a cut goes through the middle of the band at the bottom: nothing crosses it.
    fn is_halved(&self) -> bool {
        false
    }

    /// Whether several copies of one page stand on a sheet, to be cut.
    fn is_pad(&self) -> bool {
        false
    }

    /// Whether the page may lie on its side: the others lie as their folds and cuts want it.
    fn may_turn(&self) -> bool {
        false
    }

    /// How the sheet can be turned between its sides; the first is usual.
    fn duplex(&self) -> &'static [Duplex];

    /// What panels become when their sheets are folded; none where a band at the bottom of the page says what its sheet is.
    fn gathering(&self) -> Option<Gathering> {
        None
    }

    /// How far from the sides the band at the bottom stands; none where it keeps the margin of the text.
    fn band_margin(&self) -> Option<Length> {
        None
    }

    /// The page as shown.
    fn page(&self, paper: &Paper, is_turned: bool) -> Size;

    /// Outer size of a panel on a page whose band at the bottom is so high.
    fn panel(&self, page: Size, band: Length) -> Size;

    /// Every panel as often as the stack wants, on the sides of sheets in printing order.
    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide>;
}

/// Panels that make a folded whole.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Gathering {
    /// How many panels a sheet has. The last of a gathering says what the sheet is and how it is folded.
    pub panels: usize,
    /// What that panel is called, where all sheets make one whole; none where each sheet is folded by itself.
    pub whole: Option<&'static str>,
    /// How it is folded.
    pub folding: &'static str,
    /// The same in pictures; none where the words are enough.
    pub pictures: &'static [&'static [FoldLine]],
}

/// A line of a picture that shows a fold, in hundredths of a millimeter from its top left corner, in a box of 13.50 by 11.50 mm.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FoldLine {
    /// One end.
    pub from: (i64, i64),
    /// The other end.
    pub to: (i64, i64),
    /// What it is.
    pub stroke: Stroke,
}

/// What a line of a picture is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stroke {
    /// An edge of the paper, or an arrow.
    Edge,
    /// Where it is folded.
    Fold,
    /// Where it is cut.
    Cut,
}

impl FoldLine {
    /// An edge.
    const fn edge(from: (i64, i64), to: (i64, i64)) -> Self {
        Self { from, to, stroke: Stroke::Edge }
    }

    /// A fold.
    const fn fold(from: (i64, i64), to: (i64, i64)) -> Self {
        Self { from, to, stroke: Stroke::Fold }
    }

    /// A cut.
    const fn cut(from: (i64, i64), to: (i64, i64)) -> Self {
        Self { from, to, stroke: Stroke::Cut }
    }
}

/// Every format.
pub static FORMATS: &[&dyn Format] = &[
    &fold_8::Fold8,
    &fold_4::Fold4,
    &card::CARD,
    &index::INDEX,
    &half::Half,
    &pad::Pad,
    &booklet::Booklet,
    &full::Full,
    &wall::Wall,
];

/// The format of this word.
#[must_use]
pub fn named(word: &str) -> Option<&'static dyn Format> {
    FORMATS.iter().copied().find(|format| format.word() == word)
}

impl PartialEq for dyn Format + '_ {
    fn eq(&self, other: &Self) -> bool {
        self.word() == other.word()
    }
}

impl Eq for dyn Format + '_ {}

impl fmt::Debug for dyn Format + '_ {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// A sheet with its longer edge upright.
fn upright(paper: &Paper) -> Size {
    Size { width: paper.width.min(paper.height), height: paper.width.max(paper.height) }
}

/// A sheet on its side.
fn lying(paper: &Paper) -> Size {
    Size { width: paper.width.max(paper.height), height: paper.width.min(paper.height) }
}
