//! One sheet, one cut, eight panels: a small book for the pocket.

use super::fold::{Fold, folded};
use super::{Duplex, Format, Gathering, Guide, PaperSide, Stack, lying};
use crate::ground::{Length, Point, Size};
use crate::tables::Paper;

pub(super) struct Fold8;

/// Folded the long way, cut in the middle half and pushed together, the panels run along the lower row from the second on,
/// back along the upper row, and end at the lower left: leaves are (1, 2), (3, 4), (5, 6), (7, 8).
const FOLD: &Fold = &[
    (1, 1, false),
    (2, 1, false),
    (3, 1, false),
    (3, 0, true),
    (2, 0, true),
    (1, 0, true),
    (0, 0, true),
    (0, 1, false),
];

impl Format for Fold8 {
    fn word(&self) -> &'static str {
        "fold-8"
    }

    fn unit(&self) -> &'static str {
        "panel"
    }

    fn margin(&self) -> Length {
        Length::mm(5)
    }

    fn has_panels(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::Simplex]
    }

    fn gathering(&self) -> Option<Gathering> {
        let folding = "Print on one side at 100 %. Fold the sheet in half the long way, then in four across; open it, cut \
             along the dashed line; fold the long way again and push the ends together until it closes as a book.";
        Some(Gathering { panels: 8, whole: None, folding })
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, page: Size, _: Length) -> Size {
        Size { width: page.width / 4, height: page.height / 2 }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        folded(stack, FOLD, 4, &[cut(stack.page)])
    }
}

/// Where the book is cut.
fn cut(page: Size) -> Guide {
    let middle = page.height / 2;
    let (from, to) = (Point { x: page.width / 4, y: middle }, Point { x: page.width.fraction(3, 4), y: middle });
    Guide { from, to, is_dashed: true }
}

#[cfg(test)]
mod tests {
    use super::FOLD;
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
        for pair in FOLD.chunks(2) {
            assert_eq!(leaf(pair[0]), leaf(pair[1]));
        }
        assert_eq!(FOLD.iter().map(|(column, row, _)| (column, row)).collect::<BTreeSet<_>>().len(), 8);
        assert!(FOLD.iter().all(|(_, row, is_turned)| (*row == 0) == *is_turned));
    }
}
