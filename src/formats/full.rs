//! One page a sheet.

use super::{Duplex, Format, PaperSide, Stack, lying, upright};
use crate::ground::{Length, Size};
use crate::tables::Paper;

pub(super) struct Full;

impl Format for Full {
    fn word(&self) -> &'static str {
        "full"
    }

    fn unit(&self) -> &'static str {
        "page"
    }

    fn margin(&self) -> Length {
        Length::mm(8)
    }

    fn is_whole(&self) -> bool {
        true
    }

    /// Holes stand 12 mm from the edge (ISO 838).
    fn binding(&self) -> Option<Length> {
        Some(Length::mm(20))
    }

    fn may_turn(&self) -> bool {
        true
    }

    fn duplex(&self) -> &'static [Duplex] {
        &Duplex::ALL
    }

    fn page(&self, paper: &Paper, is_turned: bool) -> Size {
        if is_turned { lying(paper) } else { upright(paper) }
    }

    fn panel(&self, page: Size, band: Length) -> Size {
        Size { width: page.width, height: page.height - band }
    }

    fn sides(&self, stack: &Stack<'_>) -> Vec<PaperSide> {
        stack.pages()
    }
}
