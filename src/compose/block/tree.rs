//! Things that hang on each other, each below what it hangs on.

use super::Text;
use crate::ground::{Span, Subject};

/// Things that hang on each other: what hangs on a node stands below it and one level further to the right.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct TreeBlock {
    /// Stable key: `wiring`.
    pub key: &'static str,
    /// From top to bottom; a node hangs on the last one above it that is a level less.
    pub nodes: Vec<TreeNode>,
}

/// A node, drawn as a box.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct TreeNode {
    /// How many it hangs on, one after the other.
    pub level: u16,
    /// The name one looks up.
    pub name: Text,
    /// What stands below the name, a line each.
    pub lines: Vec<Text>,
    /// Said of the line that leads to it, on the line itself where there is room.
    pub on_line: Option<TreeGuard>,
    /// What else is said of that line, beside the box.
    pub beside: Vec<Text>,
    /// The record.
    pub record: Option<Subject>,
    /// Where the record begins.
    pub span: Span,
}

/// What sits on a line: a small box with its words.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct TreeGuard {
    /// On the line: `15 A`.
    pub short: Text,
    /// Where the line has no room for it: `fuse 15 A`.
    pub words: Text,
}

impl TreeBlock {
    /// Whether a line passes a node on its left or ends there, at each level: such a line hangs below a node of the level.
    #[must_use]
    pub fn passes(&self, at: usize, level: u16) -> bool {
        let mut below = self.nodes.iter().skip(at + 1).take_while(|node| node.level > level);
        below.any(|node| node.level == level + 1)
    }
}
