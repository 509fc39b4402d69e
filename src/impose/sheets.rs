//! Where panels stand on pages.

use super::fold::{booklet, folded};
use super::grid::Grid;
use super::sheet::{Duplex, Job, Page, Placed};
use crate::compose::block::Document;
use crate::ground::Length;
use crate::typeset::Panels;
use crate::typeset::format::Format;
use crate::typeset::layout::Layout;
use crate::typeset::mark::{Area, Mark, Point, Size};
use crate::typeset::pen::{HAIRLINE, Pen, across, down};

/// Length of crop and fold marks.
pub(super) const MARK: Length = Length::mm(3);

/// Places the panels of a document on its pages.
#[must_use]
pub fn sheets(set: Panels, document: &Document, layout: &Layout, pen: &Pen) -> Job {
    let copies = usize::from(document.copies.max(1));
    let band = set.band.marks(set.page, layout, pen);
    let foot = Foot { height: set.band.height, marks: &band };
    let mut pages = match set.format {
        Format::Fold8 | Format::Fold4 => folded(&set),
        Format::Booklet => booklet(&set),
        Format::Card | Format::Index | Format::Half => {
            Grid::of(&set, layout.duplex, &foot).in_stacks(copies, layout.duplex, &foot)
        }
        Format::Pad => Grid::of(&set, Duplex::Simplex, &foot).alike(&foot),
        Format::Full | Format::Wall => full(&set, &foot),
    };
    if layout.duplex != Duplex::Simplex {
        pages.iter_mut().for_each(|page| page.marks.extend(crosses(page.size)));
    }
    // A sheet of cards is filled with copies already; other documents are printed so often.
    let times = if matches!(set.format, Format::Card | Format::Index | Format::Half) { 1 } else { copies };
    let pages = std::iter::repeat_n(pages, times).flatten().collect();
    Job {
        stem: document.stem.clone(),
        title: document.title.clone(),
        language: document.language.clone(),
        panels: set.panels,
        pages,
        duplex: layout.duplex,
        canonical: None,
    }
}

/// The whole of a page.
pub(super) const fn whole(size: Size) -> Area {
    Area { left: Length::ZERO, top: Length::ZERO, right: size.width, bottom: size.height }
}

/// The band at the bottom of a page.
pub(super) struct Foot<'a> {
    pub height: Length,
    pub marks: &'a [Mark],
}

fn full(set: &Panels, foot: &Foot<'_>) -> Vec<Page> {
    let page = |panel| Page {
        size: set.page,
        trim: whole(set.page),
        placed: vec![Placed { panel, at: Point::default(), is_turned: false }],
        marks: foot.marks.to_vec(),
    };
    (0..set.panels.len()).map(page).collect()
}

/// How far the middle of a cross stands from the edge, and half its size.
const CROSS: Length = Length::mm(6);
const ARM: Length = Length::hundredths_mm(150);

/// A cross at the middle of the left and of the right edge. About either axis of the sheet each falls on the other or on
/// itself: held against the light, the two sides show how far the printer is off.
fn crosses(page: Size) -> Vec<Mark> {
    let y = page.height / 2;
    let cross = |x: Length| [across(x - ARM, x + ARM, y, HAIRLINE), down(x, y - ARM, y + ARM, HAIRLINE)];
    [CROSS, page.width - CROSS].into_iter().flat_map(cross).collect()
}
