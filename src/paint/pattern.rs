//! What stands in for a grey: strokes and dots of a size that a second copy still has.
//!
//! Both have their phase from the panel, so that the strokes of areas that touch go on in each other.

use crate::ground::{Area, Length, Point};

/// The strokes of a hatch: at 0.35 pt a second copy loses them.
pub(super) const HATCH: Length = Length::twentieths_pt(10);
/// From stroke to stroke along an edge: 1.2 mm across them, times the root of two.
const STEP: Length = Length::hundredths_mm(170);

/// A dot, from dot to dot in a row, from row to row, and what keeps a dot clear of an edge.
pub(super) const DOT: Length = Length::hundredths_mm(42);
const APART: Length = Length::hundredths_mm(120);
const ROW: Length = Length::hundredths_mm(104);
const CLEAR: Length = Length::hundredths_mm(45);

/// The strokes of an area, each with its lower and its upper end: on one stroke the way across and the way down have one sum.
pub(super) fn hatch(Area { left, top, right, bottom }: Area) -> Vec<(Point, Point)> {
    let step = STEP.as_grains();
    let (from, to) = ((left + top).as_grains(), (right + bottom).as_grains());
    let sums = from.div_euclid(step) + 1..=(to - 1).div_euclid(step);
    let ends = |n: i64| {
        let sum = Length::grains(n * step);
        let (low, high) = (left.max(sum - bottom), right.min(sum - top));
        (Point { x: low, y: sum - low }, Point { x: high, y: sum - high })
    };
    sums.map(ends).collect()
}

/// The middles of the dots of an area: rows about its own middle, every other one moved by half a dot's distance.
pub(super) fn dots(Area { left, top, right, bottom }: Area) -> Vec<Point> {
    let room = bottom - top - CLEAR * 2;
    if room < Length::ZERO {
        return Vec::new();
    }
    let rows = room.as_grains() / ROW.as_grains();
    let first = top + (bottom - top - ROW * rows) / 2;
    let mut dots = Vec::new();
    for row in 0..=rows {
        let moved = if row % 2 == 0 { Length::ZERO } else { APART / 2 };
        let low = (left + CLEAR - moved).as_grains();
        let high = (right - CLEAR - moved).as_grains();
        let apart = APART.as_grains();
        let columns = -(-low).div_euclid(apart)..=high.div_euclid(apart);
        dots.extend(columns.map(|n| Point { x: APART * n + moved, y: first + ROW * row }));
    }
    dots
}

#[cfg(test)]
mod tests {
    use super::{APART, CLEAR, DOT, dots, hatch};
    use crate::ground::{Area, Length};

    fn area(left: i64, top: i64, right: i64, bottom: i64) -> Area {
        let mm = Length::hundredths_mm;
        Area { left: mm(left), top: mm(top), right: mm(right), bottom: mm(bottom) }
    }

    #[test]
    fn strokes_end_at_the_edges_and_go_on_in_the_area_that_touches() {
        let (one, below) = (area(1000, 1000, 3000, 1300), area(1000, 1300, 3000, 1600));
        let (upper, lower) = (hatch(one), hatch(below));
        // Strokes lie where both places add up to a multiple of 1.7 mm: from 12 to 25 times that between 20 and 43 mm.
        assert_eq!(upper.len(), 14);
        for (from, to) in &upper {
            assert_eq!(to.x - from.x, from.y - to.y, "at half a right angle");
            assert!(from.x >= one.left && to.x <= one.right && to.y >= one.top && from.y <= one.bottom);
        }
        let joined = upper.iter().filter(|(from, _)| lower.iter().any(|(_, to)| to == from)).count();
        assert!(joined >= 11, "{joined} of {} go on below", upper.len());
    }

    #[test]
    fn dots_are_whole_and_in_rows() {
        let bar = area(1010, 1000, 2020, 1225);
        let dots = dots(bar);
        // From 10.55 to 19.75 mm lie eight multiples of 1.2 mm, and seven that are half of that further.
        assert_eq!(dots.len(), 8 + 7);
        for dot in &dots {
            assert!(dot.x - DOT / 2 > bar.left && dot.x + DOT / 2 < bar.right, "{dot:?}");
            assert!(dot.y - CLEAR >= bar.top && dot.y + CLEAR <= bar.bottom, "{dot:?}");
            let near = dots.iter().filter(|other| (other.x - dot.x).as_grains().abs() < APART.as_grains() / 2);
            assert_eq!(near.filter(|other| other.y == dot.y).count(), 1);
        }
        assert!(super::dots(area(0, 0, 1000, 80)).is_empty(), "too low for a dot");
    }
}
