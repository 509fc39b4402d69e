//! Two pages a side, both sides, folded and stapled in the middle.

use super::fold::fold_marks;
use super::{Duplex, FoldLine, Format, Gathering, PaperSide, Placed, Stack, lying};
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
        let folding = "1 Print on both sides at 100 %, turned about the short edge. Lay the sheets on each other in order. 2 Fold \
             them in the middle and staple the fold. 3 The inner pages stand out a little (creep); nothing is moved to make up \
             for it.";
        Some(Gathering { panels: 4, whole: Some("This booklet"), folding, pictures: PICTURES })
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

/// The sheets on each other with their fold; folded, with two staples in the fold; the book.
const PICTURES: &[&[FoldLine]] = &[
    &[
        FoldLine::edge((200, 300), (1230, 300)),
        FoldLine::edge((1230, 300), (1230, 1050)),
        FoldLine::edge((1230, 1050), (200, 1050)),
        FoldLine::edge((200, 1050), (200, 300)),
        FoldLine::edge((320, 300), (320, 180)),
        FoldLine::edge((320, 180), (1350, 180)),
        FoldLine::edge((1350, 180), (1350, 930)),
        FoldLine::edge((1350, 930), (1230, 930)),
        FoldLine::fold((715, 300), (715, 1050)),
    ],
    &[
        FoldLine::fold((775, 250), (775, 1050)),
        FoldLine::edge((775, 250), (380, 150)),
        FoldLine::edge((380, 150), (380, 950)),
        FoldLine::edge((380, 950), (775, 1050)),
        FoldLine::edge((775, 250), (1170, 150)),
        FoldLine::edge((1170, 150), (1170, 950)),
        FoldLine::edge((1170, 950), (775, 1050)),
        FoldLine::cut((775, 420), (775, 520)),
        FoldLine::cut((775, 780), (775, 880)),
    ],
    &[
        FoldLine::edge((480, 150), (1070, 150)),
        FoldLine::edge((1070, 150), (1070, 1050)),
        FoldLine::edge((1070, 1050), (480, 1050)),
        FoldLine::edge((480, 1050), (480, 150)),
        FoldLine::cut((480, 330), (480, 430)),
        FoldLine::cut((480, 770), (480, 870)),
        FoldLine::edge((600, 300), (950, 300)),
        FoldLine::edge((600, 450), (950, 450)),
        FoldLine::edge((600, 600), (950, 600)),
        FoldLine::edge((600, 750), (850, 750)),
    ],
];
