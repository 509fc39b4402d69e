//! How paper is parted: which page, which panels on it, and where nothing may stand.

use super::mark::Size;
use crate::ground::Length;
use crate::tables::Paper;

/// How paper is parted.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Format {
    /// One sheet, one cut, eight panels.
    Fold8,
    /// One sheet, folded twice, four panels.
    Fold4,
    /// ISO/IEC 7810 ID-1 cards, several on a sheet.
    Card,
    /// Index cards of 3 x 5 in, several on a sheet.
    Index,
    /// Two pages on a sheet, cut apart.
    Half,
    /// Two copies of one page on a sheet, cut and stacked: a pad to write on.
    Pad,
    /// Two pages a side, both sides, folded and stapled in the middle.
    Booklet,
    /// One page a sheet.
    Full,
    /// One page on paper of twice the size.
    Wall,
}

/// What a format is, in one row of a table.
struct Facts {
    word: &'static str,
    /// What a panel is called.
    unit: &'static str,
    /// White around the text of a panel.
    margin: Length,
}

impl Format {
    /// Every format.
    pub const ALL: [Self; 9] = [
        Self::Fold8,
        Self::Fold4,
        Self::Card,
        Self::Index,
        Self::Half,
        Self::Pad,
        Self::Booklet,
        Self::Full,
        Self::Wall,
    ];

    const fn facts(self) -> Facts {
        let (word, unit, margin) = match self {
            Self::Fold8 => ("fold-8", "panel", Length::mm(5)),
            Self::Fold4 => ("fold-4", "panel", Length::mm(6)),
            Self::Card => ("card", "card", Length::mm(3)),
            Self::Index => ("index", "card", Length::mm(5)),
            Self::Half => ("half", "page", Length::mm(10)),
            Self::Pad => ("pad", "page", Length::mm(10)),
            Self::Booklet => ("booklet", "page", Length::mm(10)),
            Self::Full => ("full", "page", Length::mm(12)),
            Self::Wall => ("wall", "sheet", Length::mm(15)),
        };
        Facts { word, unit, margin }
    }

    /// As layouts write it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.facts().word
    }

    /// What a panel is called.
    pub(super) const fn unit(self) -> &'static str {
        self.facts().unit
    }

    /// White around the text of a panel, where the layout asks for no more.
    pub(super) const fn margin(self) -> Length {
        self.facts().margin
    }

    /// The format of this word.
    pub(super) fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|format| format.word() == word)
    }

    /// Least white around the text: 5 mm at a sheet's edge and 3 mm beside a fold or cut. Cards never touch the sheet's edge.
    pub(super) const fn least_margin(self) -> Length {
        match self {
            Self::Card | Self::Index => Length::mm(3),
            _ => Length::mm(5),
        }
    }

    /// Whether a section begins on a panel of its own; on pages they follow each other.
    pub(super) const fn has_panels(self) -> bool {
        matches!(self, Self::Fold8 | Self::Fold4 | Self::Card | Self::Index)
    }

    /// Whether the page may lie on its side: the others lie as their folds and cuts want it.
    pub(super) const fn may_turn(self) -> bool {
        matches!(self, Self::Full | Self::Wall)
    }

    /// How many panels make a whole, and whether the last of them says what the sheet is and how it is folded.
    pub(crate) const fn gathering(self) -> Option<usize> {
        match self {
            Self::Fold8 => Some(8),
            Self::Fold4 | Self::Booklet => Some(4),
            _ => None,
        }
    }

    /// The page as shown.
    pub(super) fn page(self, paper: &Paper, is_turned: bool) -> Size {
        let (short, long) = (paper.width.min(paper.height), paper.width.max(paper.height));
        let (upright, lying) = (Size { width: short, height: long }, Size { width: long, height: short });
        match self {
            Self::Fold8 | Self::Index | Self::Half | Self::Pad | Self::Booklet => lying,
            Self::Wall if is_turned => Size { width: short * 2, height: long },
            Self::Wall => Size { width: long, height: short * 2 },
            Self::Full if is_turned => lying,
            Self::Fold4 | Self::Card | Self::Full => upright,
        }
    }

    /// How far from the sides the band at the bottom stands; none where it keeps the margin of the text.
    pub(super) const fn band_margin(self) -> Option<Length> {
        match self {
            Self::Card | Self::Index => Some(Length::mm(8)),
            _ => None,
        }
    }

    /// Outer size of a panel on a page whose band at the bottom is so high.
    pub(super) fn panel(self, page: Size, band: Length) -> Size {
        match self {
            Self::Fold8 => Size { width: page.width / 4, height: page.height / 2 },
            Self::Fold4 => Size { width: page.width / 2, height: page.height / 2 },
            Self::Card => Size { width: Length::hundredths_mm(8560), height: Length::hundredths_mm(5398) },
            Self::Index => Size { width: Length::inches(5), height: Length::inches(3) },
            Self::Half | Self::Pad => Size { width: page.width / 2, height: page.height - band },
            Self::Booklet => Size { width: page.width / 2, height: page.height },
            Self::Full | Self::Wall => Size { width: page.width, height: page.height - band },
        }
    }
}

/// How a sheet is turned between its sides.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Duplex {
    /// One side only.
    Simplex,
    /// About its longer edge, like an upright book.
    LongEdge,
    /// About its shorter edge, like an upright pad.
    ShortEdge,
}

impl Duplex {
    const ALL: [Self; 3] = [Self::Simplex, Self::LongEdge, Self::ShortEdge];

    /// As layouts write it.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Simplex => "none",
            Self::LongEdge => "long-edge",
            Self::ShortEdge => "short-edge",
        }
    }

    /// The way of this word.
    pub(super) fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|duplex| duplex.word() == word)
    }
}
