//! A fault of this program, found by itself.

use std::fmt;

/// What went wrong in our own work: never the plan's fault, never the world's. Exit code 3.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bug {
    /// What we relied on and did not get.
    pub what: String,
}

impl Bug {
    /// A bug of these words.
    pub fn new(what: impl Into<String>) -> Self {
        Self { what: what.into() }
    }
}

impl fmt::Display for Bug {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a bug in this program, please report it: {}", self.what)
    }
}
