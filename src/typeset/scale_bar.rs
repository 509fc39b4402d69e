//! The bar by which one sees that the printer did not scale.

use super::furniture::AIR;
use super::layout::Layout;
use super::pen::{Pen, RULE};
use crate::compose::block::Role;
use crate::ground::{Length, Span};
use crate::sheet::{HAIRLINE, Mark, Point, across, down};

/// How long it is.
const BAR: Length = Length::mm(50);

/// The 50 mm bar with its words, its left end at `at`.
pub(crate) fn scale_bar(pen: &Pen, layout: &Layout, at: Point) -> Vec<Mark> {
    let style = layout.style(Role::Small);
    let tick = Length::hundredths_mm(150);
    let mut marks = vec![across(at.x, at.x + BAR, at.y, RULE)];
    for end in [at.x, at.x + BAR / 2, at.x + BAR] {
        marks.push(down(end, at.y - tick, at.y, HAIRLINE));
    }
    let baseline = at.y + bar_words(layout);
    let words = "50 mm: print at 100 %";
    marks.push(Mark::Glyphs(pen.write(words, style, Span::NOWHERE, Point { x: at.x, y: baseline })));
    marks
}

/// How far below the bar the baseline of its words is.
pub(crate) fn bar_words(layout: &Layout) -> Length {
    layout.air(AIR) + layout.style(Role::Small).capital()
}

/// How wide the bar is.
pub(crate) const fn bar_width() -> Length {
    BAR
}
