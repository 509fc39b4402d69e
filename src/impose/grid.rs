//! Panels side by side and under each other without gaps, so that one cut parts two; the band below stays free.

use super::sheet::{Duplex, Page, Placed};
use super::sheets::{Foot, MARK};
use crate::ground::Length;
use crate::typeset::Panels;
use crate::typeset::format::Format;
use crate::typeset::mark::{Area, Mark, Point, Size};
use crate::typeset::pen::{HAIRLINE, across, down};

/// No text nearer to the edge of a sheet.
const EDGE: Length = Length::mm(5);
/// How far crop marks stand from the corner.
const CLEAR: Length = Length::mm(1);

/// Whether a sheet turned so is turned about an upright axis, like the leaf of a book.
fn is_about_upright_axis(page: Size, duplex: Duplex) -> bool {
    (duplex == Duplex::LongEdge) == (page.height >= page.width)
}

/// The places of a page.
pub(super) struct Grid {
    page: Size,
    panel: Size,
    panels: usize,
    holders: Vec<std::ops::Range<usize>>,
    columns: i64,
    rows: i64,
    /// Top left corner of the first place.
    at: Point,
}

impl Grid {
    /// As many places as the page holds.
    pub fn of(set: &Panels, duplex: Duplex, foot: &Foot<'_>) -> Self {
        let panel = set.panels.first().map(|panel| panel.size).unwrap_or_default();
        let fit = |room: Length, one: Length| (room.as_grains() / one.as_grains().max(1)).max(1);
        let margin = EDGE + MARK + CLEAR;
        let is_halved = matches!(set.format, Format::Half | Format::Pad);
        let (columns, rows, top) = if is_halved {
            (2, 1, Length::ZERO)
        } else {
            let columns = fit(set.page.width - margin * 2, panel.width);
            let below = foot.height + EDGE + MARK;
            // Turned about the lying axis, the block comes to lie upside down: it keeps clear of the band at both ends.
            let is_centred = duplex != Duplex::Simplex && !is_about_upright_axis(set.page, duplex);
            let above = if is_centred { below } else { margin };
            let rows = fit(set.page.height - above - below, panel.height);
            let top = if is_centred { (set.page.height - panel.height * rows) / 2 } else { margin };
            (columns, rows, top)
        };
        let left = (set.page.width - panel.width * columns) / 2;
        let holders = set.of_holders().collect();
        let at = Point { x: left, y: top };
        Self { page: set.page, panel, panels: set.panels.len(), holders, columns, rows, at }
    }

    fn places(&self) -> usize {
        usize::try_from(self.columns * self.rows).unwrap_or(1)
    }

    /// Every panel `copies` times, in cut-stack order: the sheets are cut as one stack, and the piles laid on each other in
    /// order of their places have all panels in order. Printed on both sides, a leaf bears two successive panels.
    pub fn in_stacks(&self, copies: usize, duplex: Duplex, foot: &Foot<'_>) -> Vec<Page> {
        let sides = if duplex == Duplex::Simplex { 1 } else { 2 };
        let panels: Vec<Vec<usize>> = self.holders.iter().map(|own| own.clone().collect()).collect();
        let leaves = panels.iter().flat_map(|own| own.chunks(sides));
        let leaves: Vec<&[usize]> = leaves.flat_map(|leaf| std::iter::repeat_n(leaf, copies)).collect();
        let sheets = leaves.len().div_ceil(self.places());
        let mut pages = Vec::new();
        for sheet in 0..sheets {
            for side in 0..sides {
                let on = |place: usize| leaves.get(place * sheets + sheet).and_then(|leaf| leaf.get(side)).copied();
                let placed = (0..self.places()).filter_map(|place| self.placed(on(place)?, place, side > 0, duplex));
                let placed: Vec<Placed> = placed.collect();
                pages.push(self.page(placed, foot));
            }
        }
        pages
    }

    /// A page for each panel, with it at every place.
    pub fn alike(&self, foot: &Foot<'_>) -> Vec<Page> {
        let page = |panel| {
            let placed = (0..self.places()).filter_map(|place| self.placed(panel, place, false, Duplex::Simplex));
            self.page(placed.collect(), foot)
        };
        (0..self.panels).map(page).collect()
    }

    /// A panel at a place; at the back at its mirror image, about the axis about which the sheet is turned.
    fn placed(&self, panel: usize, place: usize, is_back: bool, duplex: Duplex) -> Option<Placed> {
        let place = i64::try_from(place).ok()?;
        let (column, row) = (place % self.columns, place / self.columns);
        let mut at = Point { x: self.at.x + self.panel.width * column, y: self.at.y + self.panel.height * row };
        match is_back {
            true if is_about_upright_axis(self.page, duplex) => at.x = self.page.width - at.x - self.panel.width,
            true => at.y = self.page.height - at.y - self.panel.height,
            false => {}
        }
        Some(Placed { panel, at, is_turned: false })
    }

    fn page(&self, placed: Vec<Placed>, foot: &Foot<'_>) -> Page {
        let left = placed.iter().map(|placed| placed.at.x).min().unwrap_or_default();
        let top = placed.iter().map(|placed| placed.at.y).min().unwrap_or_default();
        let right = placed.iter().map(|placed| placed.at.x + self.panel.width).max().unwrap_or_default();
        let bottom = placed.iter().map(|placed| placed.at.y + self.panel.height).max().unwrap_or_default();
        let trim = Area { left, top, right, bottom };
        let mut marks = self.crop_marks(trim);
        marks.extend(foot.marks.iter().cloned());
        Page { size: self.page, trim, placed, marks }
    }

    /// Marks beside the block of panels, at every cut; where the block reaches the sheet's edge, inside it.
    fn crop_marks(&self, block: Area) -> Vec<Mark> {
        let mut marks = Vec::new();
        let is_halved = block.top == Length::ZERO;
        let (above, below) = if is_halved {
            ((Length::ZERO, MARK), (self.page.height - MARK, self.page.height))
        } else {
            ((block.top - CLEAR - MARK, block.top - CLEAR), (block.bottom + CLEAR, block.bottom + CLEAR + MARK))
        };
        let columns = block.width().as_grains() / self.panel.width.as_grains().max(1);
        for column in 0..=columns {
            let x = block.left + self.panel.width * column;
            // The sheet's own edges are no cuts.
            if x > Length::ZERO && x < self.page.width {
                marks.push(down(x, above.0, above.1, HAIRLINE));
                marks.push(down(x, below.0, below.1, HAIRLINE));
            }
        }
        let rows = block.height().as_grains() / self.panel.height.as_grains().max(1);
        for row in (0..=rows).filter(|_| !is_halved) {
            let y = block.top + self.panel.height * row;
            marks.push(across(block.left - CLEAR - MARK, block.left - CLEAR, y, HAIRLINE));
            marks.push(across(block.right + CLEAR, block.right + CLEAR + MARK, y, HAIRLINE));
        }
        marks
    }
}
