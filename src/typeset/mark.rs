//! What stands on a panel: placed glyphs, lines and fills, each with the text that it came from.
//!
//! Origin top left, y downwards; `paint` flips once.

use crate::compose::block::Role;
pub use crate::ground::{Area, Point, Size};
use crate::ground::{Length, Span};
use std::sync::Arc;

/// The four cuts of the typeface, and those that stand in for letters that it has not.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Face {
    /// 400.
    Regular,
    /// 500: the frequency to hear.
    Medium,
    /// 600: signs and wall sheets.
    SemiBold,
    /// 700: titles, names, warnings, edition.
    Bold,
    /// Hebrew letters beside the lighter cuts.
    Hebrew,
    /// Hebrew letters beside the heavier cuts.
    HebrewBold,
    /// Arabic letters beside the lighter cuts.
    Arabic,
    /// Arabic letters beside the heavier cuts.
    ArabicBold,
}

impl Face {
    /// All cuts, lightest first in each script.
    pub const ALL: [Self; 8] = [
        Self::Regular,
        Self::Medium,
        Self::SemiBold,
        Self::Bold,
        Self::Hebrew,
        Self::HebrewBold,
        Self::Arabic,
        Self::ArabicBold,
    ];

    /// The next cut, with no thin strokes.
    #[must_use]
    pub const fn heavier(self) -> Self {
        match self {
            Self::Regular => Self::Medium,
            Self::Medium => Self::SemiBold,
            Self::SemiBold | Self::Bold => Self::Bold,
            Self::Hebrew | Self::HebrewBold => Self::HebrewBold,
            Self::Arabic | Self::ArabicBold => Self::ArabicBold,
        }
    }

    /// The cuts in which a letter is looked for, in order.
    #[must_use]
    pub const fn with_others(self) -> [Self; 3] {
        match self {
            Self::Regular | Self::Medium | Self::Hebrew | Self::Arabic => [self, Self::Hebrew, Self::Arabic],
            Self::SemiBold | Self::Bold | Self::HebrewBold | Self::ArabicBold => {
                [self, Self::HebrewBold, Self::ArabicBold]
            }
        }
    }
}

/// One panel: a fold's eighth, a card, or a whole page.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Panel {
    /// Outer size.
    pub size: Size,
    /// Where text may stand.
    pub safe: Area,
    /// The title printed on it, for outlines.
    pub title: String,
    /// Whose it is, where a file has the copies of several.
    pub holder: Option<String>,
    /// How much of its height is taken, and how much there is.
    pub fill: (Length, Length),
    /// The heavy rule, the title and the panel's number.
    pub head: Vec<Mark>,
    /// What the panel is for: one and the same for all holders of the same content.
    pub body: Arc<[Mark]>,
    /// Plan, edition, code and holder: one and the same on all panels of a document.
    pub foot: Arc<[Mark]>,
}

impl Panel {
    /// All marks in reading order.
    pub fn marks(&self) -> impl Iterator<Item = &Mark> {
        self.head.iter().chain(self.body.iter()).chain(self.foot.iter())
    }
}

/// Something drawn.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Mark {
    /// Shaped text on one line.
    Glyphs(Glyphs),
    /// A straight line.
    Line(Line),
    /// A filled rectangle.
    Fill(Fill),
    /// A filled outline, for arrows and ticks.
    Outline(Outline),
    /// A QR symbol.
    Modules(Modules),
}

impl Mark {
    /// The block of what is read aloud that it is part of; none for what only guides the eye.
    #[must_use]
    pub const fn block(&self) -> Option<u32> {
        match self {
            Self::Glyphs(glyphs) => Some(glyphs.place.block),
            _ => None,
        }
    }

    /// The same mark, read so many blocks later.
    #[must_use]
    pub fn read_after(mut self, blocks: u32) -> Self {
        if let Self::Glyphs(glyphs) = &mut self {
            glyphs.place.block += blocks;
        }
        self
    }
}

/// Where a run of text stands among what is read aloud.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Place {
    /// Which block of the panel it is part of, in reading order.
    pub block: u32,
    /// Which cell of a table.
    pub cell: Option<CellPlace>,
}

/// A cell of a table on a panel.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct CellPlace {
    /// The table, counted on its panel: one that goes on over two panels is two.
    pub table: u16,
    /// The row; headings are row 0.
    pub row: u16,
    /// The cell in its row.
    pub column: u16,
}

/// A run of shaped text: one face, one size, one line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Glyphs {
    /// Start of the baseline.
    pub at: Point,
    /// The cut.
    pub face: Face,
    /// Type size.
    pub size: Length,
    /// What it is.
    pub role: Role,
    /// The text as read, for extraction.
    pub text: String,
    /// Where the text came from.
    pub span: Span,
    /// Left to right as seen, also where the text is read from right to left.
    pub glyphs: Arc<[Glyph]>,
    /// Sum of the advances.
    pub width: Length,
    /// Where it stands among what is read aloud.
    pub place: Place,
}

impl Glyphs {
    /// The glyphs in the order in which they are read, each with its distance from the start of the run, in font units.
    #[must_use]
    pub fn as_read(&self) -> Vec<(i32, &Glyph)> {
        let mut x = 0;
        let mut glyphs = Vec::with_capacity(self.glyphs.len());
        for glyph in self.glyphs.iter() {
            glyphs.push((x, glyph));
            x += glyph.advance;
        }
        glyphs.sort_by_key(|(_, glyph): &(i32, &Glyph)| glyph.at);
        glyphs
    }
}

/// One glyph of a run, in font units (1000 or as the face says).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Glyph {
    /// The cut that has it: that of the run, or one that stands in for it.
    pub face: Face,
    /// Which byte of the run's text it begins with: glyphs stand as they are seen, and are read by this.
    pub at: u32,
    /// In the face.
    pub id: u16,
    /// How far the pen moves, kerning included, in font units.
    pub advance: i32,
    /// Moves this glyph right of the pen, in font units.
    pub dx: i32,
    /// Moves this glyph above the baseline, in font units.
    pub dy: i32,
    /// The characters it stands for; empty for the second glyph of a cluster.
    pub text: String,
}

/// A straight line, drawn with butt ends.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Line {
    /// One end.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// At least 0.35 pt.
    pub thickness: Length,
    /// On and off lengths; none for a full line.
    pub dash: Option<(Length, Length)>,
}

/// A filled rectangle.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fill {
    /// Where.
    pub area: Area,
    /// Per cent of black, 0 to 100.
    pub black: u8,
}

/// A filled polygon.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outline {
    /// Its corners.
    pub corners: Vec<Point>,
    /// Per cent of black, 0 to 100.
    pub black: u8,
}

/// A QR symbol without its quiet zone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Modules {
    /// Top left corner.
    pub at: Point,
    /// Side of one module.
    pub module: Length,
    /// Modules a side.
    pub side: usize,
    /// Row by row, dark is true; `side * side` of them.
    pub dark: Vec<bool>,
    /// What it says, for the alternative text.
    pub payload: String,
}
