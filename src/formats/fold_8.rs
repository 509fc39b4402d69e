//! One sheet, one cut, eight panels: a small book for the pocket.

use super::fold::{Fold, folded};
use super::{Duplex, FoldLine, Format, Gathering, Guide, PaperSide, Stack, lying};
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

    /// Of what lies clear of the folds.
    fn margin(&self) -> Length {
        Length::mm(3)
    }

    fn least_margin(&self) -> Length {
        Length::mm(3)
    }

    fn has_panels(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::Simplex]
    }

    fn gathering(&self) -> Option<Gathering> {
        let folding = "1 Fold on all lines, open again, cut the heavy line. 2 Fold lengthwise, push the ends together 3 to a star. \
             4 Close it, this panel last. Print on one side at 100 %.";
        Some(Gathering { panels: 8, whole: None, folding, pictures: PICTURES })
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, page: Size, _: Length) -> Size {
        Size { width: page.width / 4 - NEAR_FOLD - NEAR_FOLD, height: page.height / 2 - NEAR_FOLD - NEAR_EDGE }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        let (cell, mut sides) = (Size { width: stack.page.width / 4, height: stack.page.height / 2 }, Vec::new());
        for mut side in folded(&Stack { panel: cell, ..*stack }, FOLD, 4, &[cut(stack.page)]) {
            for placed in &mut side.placed {
                placed.at = inside(placed.at, placed.is_turned, stack.page);
            }
            sides.push(side);
        }
        sides
    }
}

/// What of a panel is kept clear at a fold and at the edge of the sheet: with the margin of its text, 4 mm and 5 mm.
const NEAR_FOLD: Length = Length::mm(1);
const NEAR_EDGE: Length = Length::mm(2);

/// Where what lies clear of folds and edges begins. In the outer columns it moves away from the edge of the sheet by a millimeter, so that the
/// text of all panels is equally wide.
fn inside(at: Point, is_turned: bool, page: Size) -> Point {
    let x = if at.x == Length::ZERO {
        NEAR_EDGE
    } else if at.x + page.width / 4 >= page.width {
        at.x
    } else {
        at.x + NEAR_FOLD
    };
    // The upper edge of a panel is always a fold, and its lower edge that of the sheet.
    Point { x, y: at.y + if is_turned { NEAR_EDGE } else { NEAR_FOLD } }
}

/// The sheet with its folds and its cut; from above while the slit opens; the star; the book.
const PICTURES: &[&[FoldLine]] = &[
    &[
        FoldLine::edge((200, 150), (1350, 150)),
        FoldLine::edge((1350, 150), (1350, 1050)),
        FoldLine::edge((1350, 1050), (200, 1050)),
        FoldLine::edge((200, 1050), (200, 150)),
        FoldLine::fold((487, 150), (487, 1050)),
        FoldLine::fold((775, 150), (775, 1050)),
        FoldLine::fold((1062, 150), (1062, 1050)),
        FoldLine::fold((200, 600), (487, 600)),
        FoldLine::fold((1062, 600), (1350, 600)),
        FoldLine::cut((487, 600), (1062, 600)),
    ],
    &[
        FoldLine::edge((430, 600), (530, 600)),
        FoldLine::edge((530, 600), (775, 380)),
        FoldLine::edge((775, 380), (1020, 600)),
        FoldLine::edge((1020, 600), (775, 820)),
        FoldLine::edge((775, 820), (530, 600)),
        FoldLine::edge((1020, 600), (1120, 600)),
        FoldLine::edge((200, 600), (370, 600)),
        FoldLine::edge((370, 600), (300, 545)),
        FoldLine::edge((370, 600), (300, 655)),
        FoldLine::edge((1350, 600), (1180, 600)),
        FoldLine::edge((1180, 600), (1250, 545)),
        FoldLine::edge((1180, 600), (1250, 655)),
    ],
    &[
        FoldLine::edge((775, 600), (775, 150)),
        FoldLine::edge((775, 600), (775, 1050)),
        FoldLine::edge((775, 600), (325, 600)),
        FoldLine::edge((775, 600), (1225, 600)),
    ],
    &[
        FoldLine::edge((480, 150), (1070, 150)),
        FoldLine::edge((1070, 150), (1070, 1050)),
        FoldLine::edge((1070, 1050), (480, 1050)),
        FoldLine::cut((480, 150), (480, 1050)),
        FoldLine::edge((600, 300), (950, 300)),
        FoldLine::edge((600, 450), (950, 450)),
        FoldLine::edge((600, 600), (950, 600)),
        FoldLine::edge((600, 750), (850, 750)),
    ],
];

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
