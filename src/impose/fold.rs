//! Sheets that are folded: pocket books, quarter folds, booklets.

use super::sheet::{Page, Placed};
use super::sheets::{MARK, whole};
use crate::ground::Length;
use crate::typeset::Panels;
use crate::typeset::format::Format;
use crate::typeset::mark::{Line, Mark, Point, Size};
use crate::typeset::pen::{HAIRLINE, across, down};

/// Column and row of each panel of a folded sheet, in reading order, and whether it stands on its head.
type Fold = [(i64, i64, bool)];

/// Folded the long way, cut in the middle half and pushed together, the panels run along the lower row from the second on,
/// back along the upper row, and end at the lower left: leaves are (1, 2), (3, 4), (5, 6), (7, 8).
const EIGHT: [(i64, i64, bool); 8] = [
    (1, 1, false),
    (2, 1, false),
    (3, 1, false),
    (3, 0, true),
    (2, 0, true),
    (1, 0, true),
    (0, 0, true),
    (0, 1, false),
];

/// The upper half goes back behind the lower one and stands on its head until then; the left half then goes back behind the
/// right one: leaves are (1, 2) at the right and (3, 4) at the left.
const FOUR: [(i64, i64, bool); 4] = [(1, 1, false), (1, 0, true), (0, 0, true), (0, 1, false)];

/// Panels on sheets that are printed on one side.
pub(super) fn folded(set: &Panels) -> Vec<Page> {
    let (fold, columns): (&Fold, i64) = if set.format == Format::Fold8 { (&EIGHT, 4) } else { (&FOUR, 2) };
    let (width, height) = (set.page.width / columns, set.page.height / 2);
    let sheet = |part: &[usize]| {
        let placed = part.iter().zip(fold).map(|(panel, (column, row, is_turned))| Placed {
            panel: *panel,
            at: Point { x: width * *column, y: height * *row },
            is_turned: *is_turned,
        });
        let mut marks = fold_marks(set.page, columns, true);
        marks.extend((set.format == Format::Fold8).then(|| cut(set.page)));
        Page { size: set.page, trim: whole(set.page), placed: placed.collect(), marks }
    };
    let of_holder = |own: std::ops::Range<usize>| own.collect::<Vec<_>>();
    set.of_holders().map(of_holder).flat_map(|own| own.chunks(fold.len()).map(&sheet).collect::<Vec<_>>()).collect()
}

/// Short ticks at the edges where the sheet is folded.
fn fold_marks(page: Size, columns: i64, has_middle: bool) -> Vec<Mark> {
    let middle = page.height / 2;
    let mut marks = Vec::new();
    for column in 1..columns {
        let x = page.width.fraction(column, columns);
        marks.push(down(x, Length::ZERO, MARK, HAIRLINE));
        marks.push(down(x, page.height - MARK, page.height, HAIRLINE));
    }
    if has_middle {
        marks.push(across(Length::ZERO, MARK, middle, HAIRLINE));
        marks.push(across(page.width - MARK, page.width, middle, HAIRLINE));
    }
    marks
}

/// A dashed line where the pocket book is cut.
fn cut(page: Size) -> Mark {
    let middle = page.height / 2;
    let (from, to) = (Point { x: page.width / 4, y: middle }, Point { x: page.width.fraction(3, 4), y: middle });
    let dash = Some((Length::mm(2), Length::mm(1)));
    Mark::Line(Line { from, to, thickness: HAIRLINE, dash })
}

/// Pages of a booklet, two a side, front and back in turn: the outermost sheet bears the first and the last. Behind the page
/// at the right stands the next one at the left, for a sheet that is turned about its short edge.
pub(super) fn booklet(set: &Panels) -> Vec<Page> {
    let side = |left: usize, right: usize| {
        let place = |panel, x| Placed { panel, at: Point { x, y: Length::ZERO }, is_turned: false };
        let placed = vec![place(left, Length::ZERO), place(right, set.page.width / 2)];
        Page { size: set.page, trim: whole(set.page), placed, marks: fold_marks(set.page, 2, false) }
    };
    let of_holder = |own: std::ops::Range<usize>| {
        let (first, last) = (own.start, own.end.saturating_sub(1));
        (0..own.len() / 4).flat_map(move |n| {
            let (front, back) = ((last - 2 * n, first + 2 * n), (first + 2 * n + 1, last - 1 - 2 * n));
            [front, back]
        })
    };
    set.of_holders().flat_map(of_holder).map(|(left, right)| side(left, right)).collect()
}

#[cfg(test)]
mod tests {
    use super::{EIGHT, FOUR};
    use std::collections::BTreeSet;

    /// Two panels are a leaf when they lie back to back after folding: above each other in an outer column, or beside each other
    /// across the middle fold. Worked out with a sheet of paper.
    #[test]
    fn leaves_of_the_folded_book_hold_two_successive_panels() {
        let leaf = |(column, row, _): (i64, i64, bool)| match (column, row) {
            (0, _) => "left",
            (3, _) => "right",
            (_, 0) => "upper middle",
            _ => "lower middle",
        };
        for pair in EIGHT.chunks(2) {
            assert_eq!(leaf(pair[0]), leaf(pair[1]));
        }
        assert_eq!(EIGHT.iter().map(|(column, row, _)| (column, row)).collect::<BTreeSet<_>>().len(), 8);
        assert!(EIGHT.iter().all(|(_, row, is_turned)| (*row == 0) == *is_turned));
    }

    /// Folded back over the middle, a panel lies behind the one below it: leaves are columns.
    #[test]
    fn leaves_of_the_quarter_fold_are_its_columns() {
        for pair in FOUR.chunks(2) {
            assert_eq!(pair[0].0, pair[1].0);
        }
        assert_eq!(FOUR.iter().map(|(column, row, _)| (column, row)).collect::<BTreeSet<_>>().len(), 4);
        assert!(FOUR.iter().all(|(_, row, is_turned)| (*row == 0) == *is_turned));
    }
}
