//! Paper sizes.

use super::row::{Cite, rows};
use crate::ground::{Findings, Length};
use crate::source::{Node, record};

record! {
    /// A paper or card, upright.
    #[derive(Clone, Debug)]
    pub struct Paper = "row of a table" {
        /// As plans write it: `letter`.
        id: String,
        /// As printed.
        name: String,
        /// Shorter side; the longer for cards.
        width: Length,
        /// The other side.
        height: Length,
        /// Where from.
        cite: Cite,
    }
}

/// All papers.
#[derive(Clone, Debug)]
pub struct Papers {
    list: Vec<Paper>,
}

impl Papers {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        Self { list: rows(root, "paper", found) }
    }

    /// The paper of this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Paper> {
        self.list.iter().find(|paper| paper.id == id)
    }

    /// Papers that a printer takes.
    pub fn sheets(&self) -> impl Iterator<Item = &Paper> {
        self.list.iter().filter(|paper| paper.id != "id-1")
    }
}
