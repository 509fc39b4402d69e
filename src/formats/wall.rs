//! One page on paper of twice the size.

use super::{Duplex, Format, PaperSide, Stack, upright};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Wall;

impl Format for Wall {
    fn word(&self) -> &'static str {
        "wall"
    }

    fn unit(&self) -> &'static str {
        "sheet"
    }

    fn margin(&self) -> Length {
        Length::mm(15)
    }

    fn is_whole(&self) -> bool {
        true
    }

    fn may_turn(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &Duplex::ALL
    }

    fn page(&self, paper: &Paper, is_turned: bool) -> Size {
        let Size { width: short, height: long } = upright(paper);
        let (width, height) = if is_turned { (short * 2, long) } else { (long, short * 2) };
        Size { width, height }
    }

    fn panel(&self, page: Size, band: Length) -> Size {
        Size { width: page.width, height: page.height - band }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        stack.pages()
    }
}
