//! The border of what is for an exercise: heavy dashes around the whole panel, which no sheet in earnest has.

use crate::ground::Length;
use crate::sheet::{Area, Line, Mark, Point};

/// How heavy the dashes are, how long, and how far apart.
const THICKNESS: Length = Length::twentieths_pt(36);
const DASH: (Length, Length) = (Length::mm(4), Length::mm(2));
/// From the edge of what is safe to that of what stands inside.
const INSIDE: Length = Length::hundredths_mm(180);

/// What is left inside the border.
pub(super) fn inside(safe: Area) -> Area {
    let Area { left, top, right, bottom } = safe;
    Area { left: left + INSIDE, top: top + INSIDE, right: right - INSIDE, bottom: bottom - INSIDE }
}

/// The border around what [`inside`] left.
pub(super) fn frame(inner: Area) -> Vec<Mark> {
    // The middle of a stroke that begins at the edge of what is safe.
    let out = INSIDE - THICKNESS / 2;
    let (left, right) = (inner.left - out, inner.right + out);
    let (top, bottom) = (inner.top - out, inner.bottom + out);
    let line = |x1, y1, x2, y2| {
        let (from, to) = (Point { x: x1, y: y1 }, Point { x: x2, y: y2 });
        Mark::Line(Line { from, to, thickness: THICKNESS, dash: Some(DASH) })
    };
    vec![
        line(left, top, right, top),
        line(left, bottom, right, bottom),
        line(left, top, left, bottom),
        line(right, top, right, bottom),
    ]
}
