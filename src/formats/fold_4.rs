//! One sheet, folded twice, four panels.

use super::fold::{Fold, folded};
use super::{Duplex, FoldLine, Format, Gathering, PaperSide, Stack, upright};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Fold4;

/// The upper half goes back behind the lower one and stands on its head until then; the left half then goes back behind the
/// right one: leaves are (1, 2) at the right and (3, 4) at the left.
const FOLD: &Fold = &[(1, 1, false), (1, 0, true), (0, 0, true), (0, 1, false)];

impl Format for Fold4 {
    fn word(&self) -> &'static str {
        "fold-4"
    }

    fn unit(&self) -> &'static str {
        "panel"
    }

    fn margin(&self) -> Length {
        Length::mm(6)
    }

    fn has_panels(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::Simplex]
    }

    fn gathering(&self) -> Option<Gathering> {
        let folding = "1 Print on one side at 100 %. 2 Fold the upper half back behind the lower one, 3 then the left half back \
             behind the right one. 4 Panel 1 is in front.";
        Some(Gathering { panels: 4, whole: None, folding, pictures: PICTURES })
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        upright(paper)
    }

    fn panel(&self, page: Size, _: Length) -> Size {
        Size { width: page.width / 2, height: page.height / 2 }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        folded(stack, FOLD, 2, &[])
    }
}

/// The sheet with its folds; the upper half going back; the left half going back; what it comes to.
const PICTURES: &[&[FoldLine]] = &[
    &[
        FoldLine::edge((425, 150), (1125, 150)),
        FoldLine::edge((1125, 150), (1125, 1050)),
        FoldLine::edge((1125, 1050), (425, 1050)),
        FoldLine::edge((425, 1050), (425, 150)),
        FoldLine::fold((425, 600), (1125, 600)),
        FoldLine::fold((775, 150), (775, 1050)),
    ],
    &[
        FoldLine::fold((425, 600), (1125, 600)),
        FoldLine::edge((1125, 600), (1125, 1050)),
        FoldLine::edge((1125, 1050), (425, 1050)),
        FoldLine::edge((425, 1050), (425, 600)),
        FoldLine::edge((425, 600), (545, 330)),
        FoldLine::edge((545, 330), (1005, 330)),
        FoldLine::edge((1005, 330), (1125, 600)),
    ],
    &[
        FoldLine::fold((775, 375), (775, 825)),
        FoldLine::edge((775, 375), (1125, 375)),
        FoldLine::edge((1125, 375), (1125, 825)),
        FoldLine::edge((1125, 825), (775, 825)),
        FoldLine::edge((775, 375), (545, 455)),
        FoldLine::edge((545, 455), (545, 745)),
        FoldLine::edge((545, 745), (775, 825)),
    ],
    &[
        FoldLine::edge((600, 375), (950, 375)),
        FoldLine::edge((950, 375), (950, 825)),
        FoldLine::edge((950, 825), (600, 825)),
        FoldLine::edge((600, 825), (600, 375)),
        FoldLine::edge((670, 465), (880, 465)),
        FoldLine::edge((670, 555), (880, 555)),
        FoldLine::edge((670, 645), (880, 645)),
        FoldLine::edge((670, 735), (800, 735)),
    ],
];

#[cfg(test)]
mod tests {
    use super::FOLD;
    use std::collections::BTreeSet;

    /// Folded back over the middle, a panel lies behind the one below it: leaves are columns.
    #[test]
    fn leaves_of_the_quarter_fold_are_its_columns() {
        for pair in FOLD.chunks(2) {
            assert_eq!(pair[0].0, pair[1].0);
        }
        assert_eq!(FOLD.iter().map(|(column, row, _)| (column, row)).collect::<BTreeSet<_>>().len(), 4);
        assert!(FOLD.iter().all(|(_, row, is_turned)| (*row == 0) == *is_turned));
    }
}
