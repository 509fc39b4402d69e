//! What people type for our keys and words, from a table: the key that is meant, or one of two spellings.

use super::node::{Node, Value};
use crate::ground::{FileId, Findings, nearest};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The table; a test holds every line of it to the keys of the plan format.
static ALIASES: LazyLock<Node> =
    LazyLock::new(|| super::parse(FileId(0), include_str!("aliases.toml"), &mut Findings::default()));

/// What stands above columns of lists.
static HEADINGS: LazyLock<Node> =
    LazyLock::new(|| super::parse(FileId(0), include_str!("headings.toml"), &mut Findings::default()));

/// Headings of a kind's columns in small letters, each with the key that is meant; dots lead into tables. Of `width-words` and the
/// like: what stands in the cells of such a column, each with what it means.
pub fn headings(kind: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(&HEADINGS, kind)
}

/// By the record, what is meant where a text stands under a key that takes none: every key that is read is asked for.
static FOR_TEXT: LazyLock<BTreeMap<&str, Vec<(String, String)>>> = LazyLock::new(|| {
    let sections = ALIASES.entries().unwrap_or_default().iter();
    let for_text = sections.filter_map(|(key, _)| Some((key.text.strip_suffix("-text")?, key.text.as_str())));
    let owned = |(theirs, ours): (&str, &str)| (theirs.to_owned(), ours.to_owned());
    for_text.map(|(record, section)| (record, entries(section).map(owned).collect())).collect()
});

fn entries(section: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(&ALIASES, section)
}

fn texts(tables: &'static Node, section: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let table = tables.get(section).and_then(Node::entries).unwrap_or_default();
    table.iter().filter_map(|(key, node)| match &node.value {
        Value::Text(text) => Some((key.text.as_str(), text.as_str())),
        _ => None,
    })
}

/// The known word that `written` is in the other spelling: `license` for `licence`.
#[must_use]
pub fn respelled<'a>(written: &str, known: &[&'a str]) -> Option<&'a str> {
    let same = known.iter().copied().find(|word| *word == written);
    if same.is_some() {
        return same;
    }
    let ours = entries("spelling").fold(written.to_owned(), |text, (theirs, ours)| text.replace(theirs, ours));
    known.iter().copied().find(|word| *word == ours)
}

/// The known word that somebody means who wrote `written`, and whether that is sure: as the table has it, in other letters or
/// with other hyphens; else one that is a slip of the keyboard away. `section` is the record, or the list of words.
#[must_use]
pub fn meant<'a>(section: &str, written: &str, known: &[&'a str]) -> Option<(&'a str, bool)> {
    let plain = |text: &str| text.trim().to_lowercase().replace(['_', ' '], "-");
    let typed = plain(written);
    let same = known.iter().copied().find(|word| plain(word) == typed);
    let listed = || {
        let (_, ours) = entries(section).find(|(theirs, _)| *theirs == typed)?;
        known.iter().copied().find(|word| *word == ours)
    };
    if let Some(word) = same.or_else(|| respelled(&typed, known)).or_else(listed) {
        return Some((word, true));
    }
    nearest(written, known.iter().copied())
        .or_else(|| nearest(&typed, known.iter().copied()))
        .and_then(|near| known.iter().copied().find(|word| *word == near))
        .map(|word| (word, false))
}

/// Of a record: the keys that take a list of tables, each with the key that is meant where a text stands under it, as `class` for
/// `licence = "general"`.
pub(super) fn meant_for_text(section: &str) -> &'static [(String, String)] {
    FOR_TEXT.get(section).map_or(&[], Vec::as_slice)
}

/// A type's name as the table has it: `WrittenTransmitLimit` -> `transmit-limit`.
pub(crate) fn section(type_name: &str) -> String {
    let mut section = String::new();
    for letter in type_name.trim_start_matches("Written").chars() {
        if letter.is_uppercase() && !section.is_empty() {
            section.push('-');
        }
        section.extend(letter.to_lowercase());
    }
    section
}

/// All of the table, for the test that holds it to the plan format.
pub fn aliases() -> impl Iterator<Item = (&'static str, &'static str, &'static str)> {
    let sections = ALIASES.entries().unwrap_or_default().iter().map(|(key, _)| key.text.as_str());
    sections.flat_map(|section| entries(section).map(move |(theirs, ours)| (section, theirs, ours)))
}
