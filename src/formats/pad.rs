//! Two copies of one page on a sheet, cut and stacked: a pad to write on.

use super::grid::Grid;
use super::{Duplex, Format, PaperSide, Stack, lying};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Pad;

impl Format for Pad {
    fn word(&self) -> &'static str {
        "pad"
    }

    fn unit(&self) -> &'static str {
        "page"
    }

    fn margin(&self) -> Length {
        Length::mm(10)
    }

    fn is_halved(&self) -> bool {
        true
    }

    fn is_pad(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::Simplex]
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, page: Size, band: Length) -> Size {
        Size { width: page.width / 2, height: page.height - band }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        Grid::of_halves(stack).alike()
    }
}
