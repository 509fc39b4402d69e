//! What stands on a panel: placed glyphs, lines and fills, each with the text that it came from.
//!
//! Origin top left, y downwards; `paint` flips once.

use super::Face;
use crate::compose::block::{Role, Sign};
use crate::ground::{Area, Later, Length, Point, Span};
use std::sync::Arc;

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
    /// A rectangle filled with a pattern.
    Patterned(Patterned),
    /// A QR symbol.
    Modules(Modules),
    /// A sign that stands for words.
    Sign(SignMark),
    /// Where one writes on a screen: nothing is drawn.
    Entry(FormEntry),
}

/// What one does in an entry.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum EntryKind {
    /// Write one line.
    Line,
    /// Write several lines.
    Lines,
    /// Tick.
    Tick,
}

/// Where one writes on a screen, in reading order among the other marks.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FormEntry {
    /// Where.
    pub area: Area,
    /// What one does there.
    pub kind: EntryKind,
    /// What it is called: `7 Message`.
    pub name: String,
    /// What is told of it: its label and its help.
    pub help: String,
}

impl Mark {
    /// The block of what is read aloud that it is part of; none for what only guides the eye.
    #[must_use]
    pub const fn block(&self) -> Option<u32> {
        match self {
            Self::Glyphs(glyphs) => Some(glyphs.place.block),
            Self::Sign(sign) => Some(sign.place.block),
            _ => None,
        }
    }

    /// Where it stands among what is read aloud; none for what only guides the eye.
    pub const fn place_mut(&mut self) -> Option<&mut ReadPlace> {
        match self {
            Self::Glyphs(glyphs) => Some(&mut glyphs.place),
            Self::Sign(sign) => Some(&mut sign.place),
            _ => None,
        }
    }

    /// The same mark, read so many blocks later.
    #[must_use]
    pub fn read_after(mut self, blocks: u32) -> Self {
        if let Some(place) = self.place_mut() {
            place.block += blocks;
        }
        self
    }
}

/// Where a run of text stands among what is read aloud.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct ReadPlace {
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
    pub text: Arc<str>,
    /// Where the text came from.
    pub span: Span,
    /// Left to right as seen, also where the text is read from right to left.
    pub glyphs: Arc<[Glyph]>,
    /// Sum of the advances.
    pub width: Length,
    /// Where it stands among what is read aloud.
    pub place: ReadPlace,
    /// How its baseline goes.
    pub slope: Slope,
}

/// How a baseline goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Slope {
    /// From left to right.
    #[default]
    Level,
    /// Upwards at 60 degrees, for heads of narrow columns.
    Steep,
}

impl Glyphs {
    /// The glyphs in the order in which they are read, each with its distance from the start of the run, in font units.
    #[must_use]
    pub fn as_read(&self) -> Vec<(i32, &Glyph)> {
        let mut x = 0;
        let mut glyphs = Vec::with_capacity(self.glyphs.len());
        for glyph in self.glyphs.iter() {
            glyphs.push((x, glyph));
            x += i32::from(glyph.advance);
        }
        glyphs.sort_by_key(|(_, glyph): &(i32, &Glyph)| glyph.at);
        glyphs
    }
}

/// One glyph of a run, in font units (1000 or as the face says), which a face keeps in 16 bits: a plan's sheets have millions of them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Glyph {
    /// The cut that has it: that of the run, or one that stands in for it.
    pub face: Face,
    /// Which byte of the run's text it begins with: glyphs stand as they are seen, and are read by this.
    pub at: u32,
    /// How many bytes of the run's text it stands for; none for the second glyph of a cluster.
    pub length: u16,
    /// In the face.
    pub id: u16,
    /// How far the pen moves, kerning included, in font units.
    pub advance: i16,
    /// Moves this glyph right of the pen, in font units.
    pub dx: i16,
    /// Moves this glyph above the baseline, in font units.
    pub dy: i16,
}

impl Glyph {
    /// The characters of its run that it stands for.
    #[must_use]
    pub fn of<'a>(&self, run: &'a str) -> &'a str {
        let at = usize::try_from(self.at).unwrap_or(usize::MAX);
        let end = at.saturating_add(usize::from(self.length));
        run.get(at..end).unwrap_or_default()
    }
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

/// The thinnest line that still prints.
pub const HAIRLINE: Length = Length::twentieths_pt(7);

/// A horizontal line.
#[must_use]
pub const fn across(left: Length, right: Length, y: Length, thickness: Length) -> Mark {
    let (from, to) = (Point { x: left, y }, Point { x: right, y });
    Mark::Line(Line { from, to, thickness, dash: None })
}

/// A vertical line.
#[must_use]
pub const fn down(x: Length, top: Length, bottom: Length, thickness: Length) -> Mark {
    let (from, to) = (Point { x, y: top }, Point { x, y: bottom });
    Mark::Line(Line { from, to, thickness, dash: None })
}

/// A filled rectangle.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fill {
    /// Where.
    pub area: Area,
    /// Per cent of black, 0 to 100.
    pub black: u8,
}

/// A rectangle filled with a pattern, which a copier keeps where it loses a grey.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Patterned {
    /// Where.
    pub area: Area,
    /// What it is filled with.
    pub pattern: Pattern,
}

/// What an area is filled with in place of a grey.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Pattern {
    /// Lines that rise to the right; they go on from area to area.
    Hatch,
    /// Dots in staggered rows, all of them whole.
    Dots,
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
    /// Row by row, dark is true; `side * side` of them. Whoever checks a plan needs to know their number alone.
    pub dark: Later<Vec<bool>>,
    /// What it says, for the alternative text.
    pub payload: String,
}

/// A sign of a matrix.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SignMark {
    /// Which one.
    pub sign: Sign,
    /// Its middle.
    pub at: Point,
    /// Its width and height; of a dash its width.
    pub size: Length,
    /// The words that it stands for.
    pub text: String,
    /// Where it stands among what is read aloud.
    pub place: ReadPlace,
}

impl SignMark {
    /// How thick rings and dashes are.
    pub const STROKE: Length = Length::twentieths_pt(15);
}
