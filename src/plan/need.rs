//! Asks a record for what it must have.

use super::written::Field;
use crate::ground::{At, Finding, Findings, Id, Span};
use crate::source::{Cell, MISSING_KEY};
use crate::tables::Profile;

/// A record being understood: where it is, how to name it, and where to report.
pub(super) struct Need<'a> {
    /// The kind: `channel`.
    pub kind: &'static str,
    /// Its header.
    pub span: Span,
    /// Whose words and habits count; none when the plan names no profile that there is.
    pub profile: Option<&'a Profile>,
    /// Where findings go.
    pub found: &'a mut Findings,
}

impl Need<'_> {
    /// A key that must be there. A refused value is a hole without a second finding.
    pub fn key<T>(&mut self, field: Field<T>, key: &str) -> Option<At<T>> {
        match field {
            Some(cell) => cell.at(),
            None => {
                self.missing(key);
                None
            }
        }
    }

    /// Reports a key that is not there.
    pub fn missing(&mut self, key: &str) {
        let article = if self.kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        let what = format!("{article} {} has no `{key}`", self.kind);
        self.found
            .push(Finding::new(&MISSING_KEY, self.span, what).label("this record").help(format!("add `{key} = ...`")));
    }
}

/// A key that may be there.
pub(super) fn may<T>(field: Field<T>) -> Option<At<T>> {
    field.and_then(Cell::at)
}

/// A list that may be there, without its refused items.
pub(super) fn list<T>(field: Field<Vec<Cell<T>>>) -> Vec<At<T>> {
    let cells = field.and_then(|cell| cell.value).unwrap_or_default();
    cells.into_iter().filter_map(Cell::at).collect()
}

/// What an id says when no name is written: `cold-ridge` -> `Cold Ridge`.
pub(super) fn words_of(id: &At<Id>) -> At<crate::ground::Words> {
    let capital = |word: &str| {
        let mut letters = word.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    };
    let text = id.as_str().split('-').map(capital).collect::<Vec<_>>().join(" ");
    // An id is never empty and has no control characters, so its words can always be taken.
    id.with(crate::ground::Words::parse(&text).unwrap_or_else(|_| crate::ground::Words::dash()))
}
