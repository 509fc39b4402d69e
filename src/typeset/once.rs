//! What is said once a sheet, and the scale bar: a band at the bottom of pages whose panels do not say it themselves.

use super::beside::beside_width;
use super::layout::Layout;
use super::lines::paragraph;
use super::pen::Pen;
use super::scale_bar::{bar_width, scale_bar};
use crate::compose::block::{Document, Role, Text};
use crate::ground::Length;
use crate::sheet::{FootBand, Mark, Point, Size};

/// Between the text and the scale bar.
const GAP: Length = Length::mm(6);
/// How far the text may reach up out of the band: panels keep clear of their own edge.
const ABOVE: Length = Length::mm(1);
/// From the top of the band to the bar.
const BAR: Length = Length::mm(2);
/// No text nearer to the edge of a sheet.
const EDGE: Length = Length::mm(5);
/// The least height, which most sheets have.
const LEAST: Length = Length::hundredths_mm(1050);

/// The band of a page, as high as what it says; none of any height where nothing is said. None where a word is wider than the page.
pub(super) fn band(document: &Document, layout: &Layout, pen: &Pen, page: Size) -> Option<FootBand> {
    if document.once.is_empty() {
        return Some(FootBand { height: Length::ZERO, marks: Vec::new() });
    }
    let margin = layout.format.band_margin().unwrap_or(layout.margin);
    let left = layout.format.band_margin().unwrap_or(layout.binding);
    // Where a column stands beside the others, it says all that in it.
    if beside_width(layout, page.width - left - margin).is_some() {
        return Some(FootBand { height: Length::ZERO, marks: Vec::new() });
    }
    let words = document.once.iter().map(Text::words).collect::<Vec<_>>().join(" ");
    let width = match layout.format.is_halved() {
        // The words stand in the left half, the bar in the right one.
        true => page.width / 2 - left - margin,
        false => page.width - left - margin - bar_width() - GAP,
    };
    let style = layout.style(Role::Small);
    let words = paragraph(pen, &Text::own(words), style, width)?;
    let bar = BAR + style.size.fraction(12, 10);
    let height = LEAST.max(words.height - ABOVE + EDGE).max(bar + EDGE);
    let top = page.height - height;
    let mut marks: Vec<Mark> = words.at(Point { x: left, y: top - ABOVE }).collect();
    marks.extend(scale_bar(pen, layout, Point { x: page.width - margin - bar_width(), y: top + BAR }));
    Some(FootBand { height, marks })
}
