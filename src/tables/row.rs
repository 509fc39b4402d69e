//! Rows of tables and where they are from.

use super::rules::TABLE_ROW_UNSOURCED;
use crate::ground::{At, Finding, Findings, Span};
use crate::source::{Cell, MISSING_KEY, Node, Value, record_by_serde as record};
use serde::de::DeserializeOwned;

/// A field of a row as written.
pub(super) type Field<T> = Option<Cell<T>>;

/// Where a row is from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cite {
    /// As `47 CFR 97.301(a)`.
    pub source: String,
    /// read, second-hand, memory or computed, with what it applies to.
    pub confidence: String,
    /// The row.
    pub span: Span,
}

impl Cite {
    /// Reads source and confidence; a row without them does not load.
    pub(super) fn read(
        source: Field<String>,
        confidence: Field<String>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Self> {
        let (source, confidence) = (source.and_then(Cell::at), confidence.and_then(Cell::at));
        let (Some(source), Some(confidence)) = (source, confidence) else {
            let finding = Finding::new(&TABLE_ROW_UNSOURCED, span, "a row of a table has no source or no confidence");
            found.push(finding.label("this row").help("add `source = ...` and `confidence = ...`"));
            return None;
        };
        Some(Self { source: source.value, confidence: confidence.value, span })
    }
}

/// All tables under `[[key]]`, each with its place.
pub(super) fn rows<T: DeserializeOwned>(root: &Node, key: &str, found: &mut Findings) -> Vec<(T, Span)> {
    let nodes = match root.get(key) {
        Some(Node { value: Value::List(items), .. }) => items.iter().collect(),
        Some(node) => vec![node],
        None => Vec::new(),
    };
    nodes.into_iter().filter_map(|node| record::<T>(node, found).map(|read| (read.written, read.span))).collect()
}

/// A key that a row must have.
pub(super) fn need<T>(field: Field<T>, key: &str, span: Span, found: &mut Findings) -> Option<At<T>> {
    if field.is_none() {
        found.push(Finding::new(&MISSING_KEY, span, format!("a row of a table has no `{key}`")).label("this row"));
    }
    field.and_then(Cell::at)
}

/// A list that may be there.
pub(super) fn list<T>(field: Field<Vec<Cell<T>>>) -> Vec<T> {
    field.and_then(|cell| cell.value).unwrap_or_default().into_iter().filter_map(|cell| cell.value).collect()
}
