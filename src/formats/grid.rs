//! Panels side by side and under each other without gaps, so that one cut parts two; the band below stays free.

use super::side::MARK;
use super::{Duplex, Guide, PaperSide, Placed, Stack};
use crate::ground::{Area, Length, Point, Size};

/// No text nearer to the edge of a sheet.
const EDGE: Length = Length::mm(5);
/// How far crop marks stand from the corner.
const CLEAR: Length = Length::mm(1);

/// Whether a sheet turned so is turned about an upright axis, like the leaf of a book.
fn is_about_upright_axis(page: Size, duplex: Duplex) -> bool {
    (duplex == Duplex::LongEdge) == (page.height >= page.width)
}

/// The places of a page.
pub(super) struct Grid<'a> {
    stack: &'a Stack<'a>,
    columns: i64,
    rows: i64,
    /// Top left corner of the first place.
    at: Point,
}

impl<'a> Grid<'a> {
    /// As many places as the page holds between crop marks.
    pub fn of_cards(stack: &'a Stack<'a>) -> Self {
        let Stack { page, panel, band, duplex, .. } = *stack;
        let fit = |room: Length, one: Length| (room.as_grains() / one.as_grains().max(1)).max(1);
        let margin = EDGE + MARK + CLEAR;
        let columns = fit(page.width - margin * 2, panel.width);
        let below = band + EDGE + MARK;
        // Turned about the lying axis, the block comes to lie upside down: it keeps clear of the band at both ends.
        let is_centred = duplex != Duplex::Simplex && !is_about_upright_axis(page, duplex);
        let above = if is_centred { below } else { margin };
        let rows = fit(page.height - above - below, panel.height);
        let top = if is_centred { (page.height - panel.height * rows) / 2 } else { margin };
        Self::at(stack, (columns, rows), top)
    }

    /// Two places, from edge to edge.
    pub fn of_halves(stack: &'a Stack<'a>) -> Self {
        Self::at(stack, (2, 1), Length::ZERO)
    }

    fn at(stack: &'a Stack<'a>, (columns, rows): (i64, i64), top: Length) -> Self {
        let left = (stack.page.width - stack.panel.width * columns) / 2;
        Self { stack, columns, rows, at: Point { x: left, y: top } }
    }

    fn places(&self) -> usize {
        usize::try_from(self.columns * self.rows).unwrap_or(1)
    }

    /// Every panel so often, in cut-stack order: the sheets are cut as one stack, and the piles laid on each other in order of
    /// their places have all panels in order. Printed on both sides, a leaf bears two successive panels.
    pub fn in_stacks(&self) -> Vec<PaperSide> {
        let count = if self.stack.duplex == Duplex::Simplex { 1 } else { 2 };
        let panels: Vec<Vec<usize>> = self.stack.holders.iter().map(|own| own.clone().collect()).collect();
        let leaves = panels.iter().flat_map(|own| own.chunks(count));
        let leaves: Vec<&[usize]> = leaves.flat_map(|leaf| std::iter::repeat_n(leaf, self.stack.copies)).collect();
        let sheets = leaves.len().div_ceil(self.places());
        let mut sides = Vec::new();
        for sheet in 0..sheets {
            for side in 0..count {
                let on = |place: usize| leaves.get(place * sheets + sheet).and_then(|leaf| leaf.get(side)).copied();
                let placed = (0..self.places()).filter_map(|place| self.placed(on(place)?, place, side > 0));
                sides.push(self.side(placed.collect()));
            }
        }
        sides
    }

    /// A page for each panel, with it at every place.
    pub fn alike(&self) -> Vec<PaperSide> {
        let side = |panel| self.side((0..self.places()).filter_map(|place| self.placed(panel, place, false)).collect());
        self.stack.printed(self.stack.holders.iter().flat_map(Clone::clone).map(side).collect())
    }

    /// A panel at a place; at the back at its mirror image, about the axis about which the sheet is turned.
    fn placed(&self, panel: usize, place: usize, is_back: bool) -> Option<Placed> {
        let Stack { page, panel: size, duplex, .. } = *self.stack;
        let place = i64::try_from(place).ok()?;
        let (column, row) = (place % self.columns, place / self.columns);
        let mut at = Point { x: self.at.x + size.width * column, y: self.at.y + size.height * row };
        match is_back {
            true if is_about_upright_axis(page, duplex) => at.x = page.width - at.x - size.width,
            true => at.y = page.height - at.y - size.height,
            false => {}
        }
        Some(Placed { panel, at, is_turned: false })
    }

    fn side(&self, placed: Vec<Placed>) -> PaperSide {
        let Size { width, height } = self.stack.panel;
        let left = placed.iter().map(|placed| placed.at.x).min().unwrap_or_default();
        let top = placed.iter().map(|placed| placed.at.y).min().unwrap_or_default();
        let right = placed.iter().map(|placed| placed.at.x + width).max().unwrap_or_default();
        let bottom = placed.iter().map(|placed| placed.at.y + height).max().unwrap_or_default();
        let trim = Area { left, top, right, bottom };
        PaperSide { trim, placed, guides: self.crop_marks(trim) }
    }

    /// Marks beside the block of panels, at every cut; where the block reaches the sheet's edge, inside it.
    fn crop_marks(&self, block: Area) -> Vec<Guide> {
        let Stack { page, panel, .. } = *self.stack;
        let mut marks = Vec::new();
        let is_halved = block.top == Length::ZERO;
        let (above, below) = if is_halved {
            ((Length::ZERO, MARK), (page.height - MARK, page.height))
        } else {
            ((block.top - CLEAR - MARK, block.top - CLEAR), (block.bottom + CLEAR, block.bottom + CLEAR + MARK))
        };
        let columns = block.width().as_grains() / panel.width.as_grains().max(1);
        for column in 0..=columns {
            let x = block.left + panel.width * column;
            // The sheet's own edges are no cuts.
            if x > Length::ZERO && x < page.width {
                marks.push(Guide::down(x, above.0, above.1));
                marks.push(Guide::down(x, below.0, below.1));
            }
        }
        let rows = block.height().as_grains() / panel.height.as_grains().max(1);
        for row in (0..=rows).filter(|_| !is_halved) {
            let y = block.top + panel.height * row;
            marks.push(Guide::across(block.left - CLEAR - MARK, block.left - CLEAR, y));
            marks.push(Guide::across(block.right + CLEAR, block.right + CLEAR + MARK, y));
        }
        marks
    }
}
