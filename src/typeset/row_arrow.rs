//! The drawn arrow before what one goes on to, and the bar beside what is the holder's own.

use super::piece::Room;
use crate::compose::block::Role;
use crate::ground::Length;
use crate::sheet::{Area, Fill, Mark, Outline, Point, across};

/// How long the arrow is, its head, and half the height of that; drawn for words of 7.5 pt.
const LONG: Length = Length::hundredths_mm(220);
const HEAD: Length = Length::hundredths_mm(105);
const HALF: Length = Length::hundredths_mm(52);
/// Its axis above the baseline, and how thick its shaft is.
const AXIS: Length = Length::hundredths_mm(93);
const SHAFT: Length = Length::twentieths_pt(14);
/// Between the arrow and the words behind it.
const AFTER: Length = Length::hundredths_mm(65);
/// The size of words for which it is drawn.
const WORDS: Length = Length::twentieths_pt(150);

/// The bar's width, how far left of the text it begins, and how far from the rules it ends.
const BAR: Length = Length::hundredths_mm(65);
const BESIDE: Length = Length::hundredths_mm(100);
const SHORT: Length = Length::hundredths_mm(70);

fn grown(room: &Room<'_>, length: Length) -> Length {
    length.fraction(room.layout.style(Role::Next).size.as_grains(), WORDS.as_grains())
}

/// How much room the arrow takes before its words.
pub(super) fn room(room: &Room<'_>) -> Length {
    grown(room, LONG + AFTER)
}

/// An arrow whose left end is `at`, on a baseline.
pub(super) fn arrow(room: &Room<'_>, at: Point) -> [Mark; 2] {
    let y = at.y - grown(room, AXIS);
    let (tip, neck) = (at.x + grown(room, LONG), at.x + grown(room, LONG - HEAD));
    let half = grown(room, HALF);
    let corners = vec![Point { x: neck, y: y - half }, Point { x: tip, y }, Point { x: neck, y: y + half }];
    [across(at.x, neck, y, SHAFT), Mark::Outline(Outline { corners, black: 100 })]
}

/// A bar beside a row of some height.
pub(super) fn bar(height: Length) -> Mark {
    let (left, top) = (Length::ZERO - BESIDE, SHORT);
    Mark::Fill(Fill { area: Area { left, top, right: left + BAR, bottom: height - SHORT }, black: 100 })
}
