//! Where panels stand on pages.

use crate::compose::block::Document;
use crate::formats::{Duplex, Guide, PaperSide, Stack};
use crate::ground::{Length, Size};
use crate::sheet::{HAIRLINE, Job, Line, Mark, Page, Panels, across, down};
use std::ops::Range;

/// Places the panels of a document on its pages.
#[must_use]
pub fn sheets(set: Panels, document: &Document) -> Job {
    let holders: Vec<Range<usize>> = set.of_holders().collect();
    let stack = Stack {
        page: set.page,
        panel: set.panels.first().map(|panel| panel.size).unwrap_or_default(),
        band: set.band.height,
        holders: &holders,
        duplex: set.duplex,
        copies: usize::from(document.copies.max(1)),
    };
    // The panels of a gathering say themselves what their sheet is.
    let band = if set.format.gathering().is_some() { Vec::new() } else { set.band.marks };
    let crosses = if set.duplex == Duplex::Simplex { Vec::new() } else { crosses(set.page) };
    // A whole page has it where a holder's copy begins.
    let has_band = |side: &PaperSide| {
        !set.format.is_whole() || side.placed.iter().any(|placed| set.starts.contains(&placed.panel))
    };
    let page = |side: PaperSide| {
        let band = if has_band(&side) { band.as_slice() } else { &[] };
        let guides = side.guides.iter().map(line);
        let marks = guides.chain(band.iter().cloned()).chain(crosses.iter().cloned()).collect();
        Page { size: set.page, trim: side.trim, placed: side.placed, marks }
    };
    let pages = set.format.sides(&stack).into_iter().map(page).collect();
    Job {
        stem: document.stem.clone(),
        title: document.title.clone(),
        says: None,
        language: document.language.clone(),
        panels: set.panels,
        alphabet: set.alphabet,
        pages,
        duplex: set.duplex,
        canonical: None,
    }
}

/// A guide as it is drawn.
fn line(guide: &Guide) -> Mark {
    let dash = guide.is_dashed.then_some((Length::mm(2), Length::mm(1)));
    Mark::Line(Line { from: guide.from, to: guide.to, thickness: HAIRLINE, dash })
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
