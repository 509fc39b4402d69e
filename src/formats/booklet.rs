//! Two pages a side, both sides, folded and stapled in the middle.

use super::fold::fold_marks;
use super::{Duplex, Format, Gathering, PaperSide, Placed, Stack, lying};
use crate::ground::{Length, Point, Size};
use crate::tables::Paper;

pub(super) struct Booklet;

impl Format for Booklet {
    fn word(&self) -> &'static str {
        "booklet"
    }

    fn unit(&self) -> &'static str {
        "page"
    }

    fn margin(&self) -> Length {
        Length::mm(10)
    }

    /// On one side it would be none.
    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::ShortEdge]
    }

    fn gathering(&self) -> Option<Gathering> {
        let folding = "Print on both sides at 100 %, turned about the short edge. Lay the sheets on each other in order, fold \
             them in the middle and staple the fold. The inner pages stand out a little (creep); nothing is moved to make up \
             for it.";
        Some(Gathering { panels: 4, whole: Some("This booklet"), folding, pictures: &[] })
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, page: Size, _: Length) -> Size {
        Size { width: page.width / 2, height: page.height }
    }

    /// Front and back in turn: the outermost sheet bears the first and the last page. Behind the page at the right stands the
    /// next one at the left, for a sheet that is turned about its short edge.
    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        let side = |left: usize, right: usize| {
            let place = |panel, x| Placed { panel, at: Point { x, y: Length::ZERO }, is_turned: false };
            let placed = vec![place(left, Length::ZERO), place(right, stack.page.width / 2)];
            PaperSide { trim: stack.whole(), placed, guides: fold_marks(stack.page, 2) }
        };
        let of_holder = |own: &std::ops::Range<usize>| {
            let (first, last) = (own.start, own.end.saturating_sub(1));
            (0..own.len() / 4).flat_map(move |n| {
                let (front, back) = ((last - 2 * n, first + 2 * n), (first + 2 * n + 1, last - 1 - 2 * n));
                [front, back]
            })
        };
        stack.printed(stack.holders.iter().flat_map(of_holder).map(|(left, right)| side(left, right)).collect())
    }
}
