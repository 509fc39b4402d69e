//! Panels with all that stands on them.

use super::{Glyph, Mark};
use crate::formats::{Duplex, Format};
use crate::ground::{Area, Length, Size};
use std::ops::Range;
use std::sync::Arc;

/// What stands once a sheet at its bottom, on pages whose panels leave room for it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FootBand {
    /// How high it is.
    pub height: Length,
    /// Where its marks stand on the page.
    pub marks: Vec<Mark>,
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
    /// What the panel is for.
    pub body: Arc<[Mark]>,
    /// Which of the bodies that several copies of an order have; none for what this copy says alone.
    pub shared: Option<u32>,
    /// Plan, edition, code and holder: one and the same on all panels of a document.
    pub foot: Arc<[Mark]>,
}

impl Panel {
    /// All marks in reading order.
    pub fn marks(&self) -> impl Iterator<Item = &Mark> {
        self.head.iter().chain(self.body.iter()).chain(self.foot.iter())
    }
}

/// A document set on panels, not yet on sheets.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Panels {
    /// How paper is parted.
    pub format: &'static dyn Format,
    /// Size of the page, as shown.
    pub page: Size,
    /// How the printer is to turn the sheet.
    pub duplex: Duplex,
    /// What is said once a sheet, on pages with room for it.
    pub band: FootBand,
    /// Glyphs that every file has.
    pub alphabet: &'static [(Glyph, String)],
    /// In reading order.
    pub panels: Vec<Panel>,
    /// Where the panels of each holder begin: a leaf, a sheet or a booklet is nobody else's.
    pub starts: Vec<usize>,
}

impl Panels {
    /// Adds the panels of another holder's copy.
    pub fn append(&mut self, other: Self) {
        self.starts.push(self.panels.len());
        self.panels.extend(other.panels);
    }

    /// The panels of each holder, by their places in the list.
    pub fn of_holders(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        let ends = self.starts.iter().skip(1).copied().chain([self.panels.len()]);
        self.starts.iter().zip(ends).map(|(from, to)| *from..to)
    }
}
