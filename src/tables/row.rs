//! Rows of tables and where they are from.

use super::rules::TABLE_ROW_UNSOURCED;
use crate::ground::{Finding, Findings, Span, on_two_threads};
use crate::source::{Meant, Node, Reading, Value, Written, record, record_of};

/// What findings call a row.
pub(super) const ROW: &str = "row of a table";

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

record! {
    /// Where a row is from, as written.
    pub struct WrittenCite = "row of a table" {
        /// As `47 CFR 97.301(a)`.
        source: Option<String>,
        /// read, second-hand, memory or computed, with what it applies to.
        confidence: Option<String>,
    }
}

/// A row without source and confidence does not load.
impl Meant for Cite {
    type Written = WrittenCite;

    fn mean(written: WrittenCite, of: &mut Reading<'_>) -> Option<Self> {
        let (Some(source), Some(confidence)) = (written.source, written.confidence) else {
            let what = "a row of a table has no source or no confidence";
            let finding = Finding::new(&TABLE_ROW_UNSOURCED, of.span, what).label("this row");
            of.found.push(finding.help("add `source = ...` and `confidence = ...`"));
            return None;
        };
        Some(Self { source, confidence, span: of.span })
    }
}

impl Cite {
    /// Where from and how well known, as notes say it.
    #[must_use]
    pub fn said(&self) -> String {
        format!("{} ({})", self.source, self.confidence)
    }

    /// Whether what the row says of one thing (`width`, `name`) is from memory: by the part of its confidence that names the thing, as in
    /// `read; memory (width)`, else by the part that names nothing.
    #[must_use]
    pub fn is_from_memory(&self, of: &str) -> bool {
        let parts = || self.confidence.split(';').map(str::trim);
        let names = |part: &&str| {
            let named = part.split_once('(').map_or("", |(_, named)| named.trim_end_matches(')'));
            named.split(',').any(|word| word.trim() == of)
        };
        let said = parts().find(names).or_else(|| parts().find(|part| !part.contains('(')));
        said.is_some_and(|part| part.starts_with("memory"))
    }

    /// For what no row says.
    pub(super) const fn nowhere() -> Self {
        Self { source: String::new(), confidence: String::new(), span: Span::NOWHERE }
    }
}

/// Rows that are read on one thread: a country has hundreds of channels, of most other things a few.
const TOGETHER: usize = 64;

/// All rows under `[[key]]` that are whole.
pub(super) fn rows<T: Meant + Send>(root: &Node, key: &str, found: &mut Findings) -> Vec<T> {
    let read = |few: &[Node], found: &mut Findings| -> Vec<T> {
        few.iter().filter_map(|node| row(node, found, |of| record_of(node, of))).collect()
    };
    let all = nodes(root, key);
    if all.len() <= 2 * TOGETHER {
        return read(all, found);
    }
    let read = on_two_threads(all.chunks(TOGETHER), |few| {
        let mut found = Findings::default();
        (read(few, &mut found), found)
    });
    let mut rows = Vec::with_capacity(all.len());
    for (few, own) in read {
        rows.extend(few);
        found.append(own);
    }
    rows
}

/// All tables under `[[key]]`; one that is written as `[key]` is meant the same.
pub(super) fn nodes<'a>(root: &'a Node, key: &str) -> &'a [Node] {
    match root.get(key) {
        Some(Node { value: Value::List(items), .. }) => items,
        Some(node) => std::slice::from_ref(node),
        None => &[],
    }
}

/// Reads something of a row.
pub(super) fn row<T>(node: &Node, found: &mut Findings, read: impl FnOnce(&mut Reading<'_>) -> Option<T>) -> Option<T> {
    Reading::alone(ROW, node.span, found, read)
}

/// A row whose keys are not ours.
pub(super) fn free_row<T: Written>(node: &Node, found: &mut Findings) -> Option<T> {
    row(node, found, |of| T::read(node, of))
}

#[cfg(test)]
mod tests {
    use super::{TOGETHER, rows};
    use crate::ground::{FileId, Findings};
    use crate::source::parse;
    use crate::tables::profile_rows::Raster;

    /// More than one thread reads: rows in the order of the file, and of those that are not whole a finding each, in that order too.
    #[test]
    fn hundreds_of_rows_stand_as_they_are_written() {
        let count = 5 * TOGETHER;
        let row = |n: usize| {
            let step = if n.is_multiple_of(7) { "none".to_owned() } else { format!("{n} Hz") };
            format!(
                "[[raster]]\nlow = \"50 MHz\"\nhigh = \"54 MHz\"\nstep = \"{step}\"\nsource = \"ours\"\nconfidence = \"sure\"\n"
            )
        };
        let text: String = (0..count).map(row).collect();
        let root = parse(FileId(0), &text, &mut Findings::default());
        let mut found = Findings::default();
        let read: Vec<Raster> = rows(&root, "raster", &mut found);
        let steps: Vec<u64> = read.iter().map(|row| row.step.as_hertz()).collect();
        let whole: Vec<u64> = (0..count).filter(|n| !n.is_multiple_of(7)).map(|n| n as u64).collect();
        assert_eq!(steps, whole);
        let places: Vec<u32> = found.iter().map(|finding| finding.span.start).collect();
        assert!(places.len() == count - whole.len() && places.is_sorted(), "{places:?}");
    }
}
