//! What holds for every kind of [`KINDS`], and for every table that one declares.

use super::{KINDS, tables};
use crate::compose::{TableKind, UsualSet};
use std::collections::BTreeSet;

#[test]
fn names_are_told_apart_and_are_words_of_paths() {
    let is_word =
        |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    let names: BTreeSet<&str> = KINDS.iter().map(|kind| kind.name).collect();
    assert_eq!(names.len(), KINDS.len());
    let keys: BTreeSet<&str> = tables().map(|table| table.key).collect();
    // Two kinds may have the same table, and never two under one key.
    let headings =
        |table: &TableKind| table.columns.iter().map(|column| (column.key, column.heading)).collect::<Vec<_>>();
    for (kind, table) in KINDS.iter().flat_map(|kind| kind.tables.iter().map(move |table| (kind, table))) {
        let first = tables().find(|known| known.key == table.key).unwrap();
        assert_eq!(headings(first), headings(table), "{}: {} is another table elsewhere", kind.name, table.key);
    }
    let sections = KINDS.iter().flat_map(|kind| kind.sections).copied();
    let columns = tables().flat_map(|table| table.columns).map(|column| column.key);
    let words: Vec<&str> = names.into_iter().chain(keys).chain(sections).chain(columns).collect();
    assert_eq!(words.into_iter().filter(|word| !is_word(word)).collect::<Vec<_>>(), Vec::<&str>::new());
    for kind in KINDS {
        assert!(!kind.title.is_empty() && !kind.about.is_empty() && !kind.each.is_empty(), "{}", kind.name);
        assert!(!kind.sections.is_empty(), "{}", kind.name);
    }
}

/// A table as it is usually set has a place for each column that must be there, and for none that it does not have.
#[test]
fn the_usual_setting_has_what_must_be_there_and_nothing_else() {
    for table in tables() {
        let declared: BTreeSet<&str> = table.columns.iter().map(|column| column.key).collect();
        assert_eq!(declared.len(), table.columns.len(), "{}", table.key);
        let set: Vec<&str> = match &table.set {
            UsualSet::Grid => continue,
            UsualSet::GridOf(columns) | UsualSet::ListOf(columns) => columns.to_vec(),
            UsualSet::Rows { left, right, below, .. } => {
                let below = below.iter().flat_map(|(left, right)| left.iter().chain(*right));
                left.iter().chain(*right).chain(below).copied().collect()
            }
        };
        let must = table.columns.iter().filter(|column| column.is_must).map(|column| column.key);
        let places: BTreeSet<&str> = set.iter().copied().collect();
        assert_eq!(places.len(), set.len(), "{}: a column has two places", table.key);
        assert!(must.clone().all(|key| places.contains(key)), "{}: {:?}", table.key, must.collect::<Vec<_>>());
        assert!(places.is_subset(&declared), "{}", table.key);
    }
}
