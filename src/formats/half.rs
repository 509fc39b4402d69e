//! Two pages on a sheet, cut apart.

use super::grid::Grid;
use super::{Duplex, Format, PaperSide, Stack, lying};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Half;

impl Format for Half {
    fn word(&self) -> &'static str {
        "half"
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

    /// About the long edge the halves would come to lie under the band at the bottom.
    fn mixes_holders(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &[Duplex::Simplex, Duplex::ShortEdge]
    }

    fn page(&self, paper: &Paper, _: bool) -> Size {
        lying(paper)
    }

    fn panel(&self, page: Size, band: Length) -> Size {
        Size { width: page.width / 2, height: page.height - band }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        Grid::of_halves(stack).in_stacks()
    }
}
