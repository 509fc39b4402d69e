//! Names met one after the other, and which of them a reader takes for an earlier one.

use crate::ground::{difference, folded, look};
use std::collections::BTreeMap;
use std::fmt::Display;

/// Names that were met, each with what it names.
pub(super) struct MetNames<T> {
    folded: BTreeMap<String, usize>,
    looks: BTreeMap<String, usize>,
    all: Vec<T>,
}

/// An earlier name that a later one is taken for.
pub(super) struct Twin<'m, T> {
    /// What it names.
    pub first: &'m T,
    /// Whether it is the same name, and not one that only looks like it.
    pub is_same: bool,
}

impl<T> MetNames<T> {
    /// No name yet.
    pub fn new() -> Self {
        Self { folded: BTreeMap::new(), looks: BTreeMap::new(), all: Vec::new() }
    }

    /// The earlier name that `name` is taken for; where there is none, `name` is taken up.
    pub fn meet(&mut self, name: &str, what: T) -> Result<(), (Twin<'_, T>, T)> {
        let keys = (folded(name), look(name));
        let same = self.folded.get(&keys.0).copied();
        let first = same.or_else(|| self.looks.get(&keys.1).copied());
        let Some(first) = first else {
            self.folded.insert(keys.0, self.all.len());
            self.looks.insert(keys.1, self.all.len());
            self.all.push(what);
            return Ok(());
        };
        self.all.get(first).map_or(Ok(()), |first| Err((Twin { first, is_same: same.is_some() }, what)))
    }
}

/// What a note says of two names that look alike.
pub(super) fn unlike(name: impl Display, first: impl Display) -> String {
    let letters = difference(&name.to_string(), &first.to_string());
    let letters = letters.map_or_else(String::new, |letters| format!(": {letters}"));
    format!("on paper nobody tells them apart{letters}")
}
