//! Sheets that are folded each by itself, printed on one side.

use super::side::MARK;
use super::{Guide, PaperSide, Placed, Stack};
use crate::ground::{Length, Point, Size};

/// Column and row of each panel of a folded sheet, in reading order, and whether it stands on its head.
pub(super) type Fold = [(i64, i64, bool)];

/// Panels on sheets of two rows and so many columns. `cuts` are drawn beside the marks of the folds.
pub(super) fn folded(stack: &Stack<'_>, fold: &Fold, columns: i64, cuts: &[Guide]) -> Vec<PaperSide> {
    let Size { width, height } = stack.panel;
    let sheet = |first: usize, count: usize| {
        let placed = fold.iter().take(count).zip(first..).map(|((column, row, is_turned), panel)| Placed {
            panel,
            at: Point { x: width * *column, y: height * *row },
            is_turned: *is_turned,
        });
        let mut guides = fold_marks(stack.page, columns);
        guides.extend(middle_marks(stack.page));
        guides.extend(cuts);
        PaperSide { trim: stack.whole(), placed: placed.collect(), guides }
    };
    let of_holder = |own: &std::ops::Range<usize>| {
        let own = own.clone();
        own.clone().step_by(fold.len()).map(move |first| (first, own.end - first))
    };
    stack.printed(stack.holders.iter().flat_map(of_holder).map(|(first, count)| sheet(first, count)).collect())
}

/// Short ticks at the upper and lower edge where the sheet is folded into columns.
pub(super) fn fold_marks(page: Size, columns: i64) -> Vec<Guide> {
    let mut marks = Vec::new();
    for column in 1..columns {
        let x = page.width.fraction(column, columns);
        marks.push(Guide::down(x, Length::ZERO, MARK));
        marks.push(Guide::down(x, page.height - MARK, page.height));
    }
    marks
}

/// The same at the sides, where it is folded across its middle.
fn middle_marks(page: Size) -> [Guide; 2] {
    let middle = page.height / 2;
    [Guide::across(Length::ZERO, MARK, middle), Guide::across(page.width - MARK, page.width, middle)]
}
