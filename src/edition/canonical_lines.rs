//! The lines of a canonical text: a path and its value each, values in one spelling, no path twice.

use super::path::Path;
use crate::compose::block::Text;
use crate::ground::Bug;
use std::borrow::Cow;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::Range;
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

/// Bytes that a card has at least: room for more is made as it is needed.
const USUAL: usize = 1 << 13;

/// Lines being gathered, each a path and its value.
#[derive(Default)]
pub(super) struct Lines {
    text: String,
    /// Where each path stands in the text, after its hash.
    paths: Vec<(u64, Range<usize>)>,
    bug: Option<Bug>,
}

impl Lines {
    /// A text that begins with this line.
    pub fn after(first: &str) -> Self {
        let mut text = String::with_capacity(USUAL);
        text.push_str(first);
        text.push('\n');
        Self { text, paths: Vec::new(), bug: None }
    }

    /// More lines behind these.
    pub fn append(&mut self, more: Self) {
        let from = self.text.len();
        self.text.push_str(&more.text);
        self.paths.extend(more.paths.into_iter().map(|(hash, path)| (hash, path.start + from..path.end + from)));
        self.bug = self.bug.take().or(more.bug);
    }

    /// A value by its path.
    pub fn add(&mut self, path: impl Path, value: &str) {
        self.line(path, |text| escape(&composed(value), text));
    }

    /// A text by its words: the same words have the same line however they are parted into runs.
    pub fn say(&mut self, path: impl Path, words: &Text) {
        let runs: Vec<_> = words.runs.iter().filter(|run| !run.text.is_empty()).collect();
        self.line(path, |text| {
            for like in runs.chunk_by(|a, b| a.is_of_edition == b.is_of_edition) {
                if like.iter().any(|run| run.is_of_edition) {
                    text.push_str("\\e");
                    continue;
                }
                match like {
                    [only] => escape(&composed(&only.text), text),
                    _ => escape(&composed(&like.iter().map(|run| run.text.as_str()).collect::<String>()), text),
                }
            }
        });
    }

    fn line(&mut self, path: impl Path, value: impl FnOnce(&mut String)) {
        let from = self.text.len();
        path.put(&mut self.text);
        let path = from..self.text.len();
        let mut hasher = DefaultHasher::new();
        self.text.get(path.clone()).hash(&mut hasher);
        self.paths.push((hasher.finish(), path));
        self.text.push('\t');
        value(&mut self.text);
        self.text.push('\n');
    }

    /// The text, in which no path stands twice.
    pub fn end(mut self) -> Result<String, Bug> {
        self.paths.sort_unstable_by_key(|(hash, path)| (*hash, path.start));
        let path = |path: &Range<usize>| self.text.get(path.clone());
        let alike = self.paths.chunk_by(|(a, _), (b, _)| a == b).filter(|alike| alike.len() > 1);
        // Of one hash, but not of need of one text.
        let twice = alike.flat_map(|alike| alike.iter().skip(1).zip(alike)).find(|(a, b)| path(&a.1) == path(&b.1));
        if let (Some(((_, range), _)), None) = (twice, &self.bug) {
            let path = path(range).unwrap_or_default();
            self.bug = Some(Bug::new(format!("two parts of a document have the path {path}")));
        }
        self.bug.map_or(Ok(self.text), Err)
    }

    /// A step of a path that is a word of the program, which holds nothing that parts paths.
    pub fn word<'a>(&mut self, word: &'a str) -> &'a str {
        if !word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-') {
            self.bug.get_or_insert_with(|| Bug::new(format!("\"{word}\" is no word for a path")));
        }
        word
    }
}

/// In NFC, which most is already. Where a line may not be broken is no content.
fn composed(text: &str) -> Cow<'_, str> {
    const UNBROKEN: char = '\u{a0}';
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    match is_nfc_quick(text.chars()) {
        IsNormalized::Yes if !text.contains(UNBROKEN) => Cow::Borrowed(text),
        IsNormalized::Yes => Cow::Owned(text.replace(UNBROKEN, " ")),
        _ => Cow::Owned(text.nfc().map(|c| if c == UNBROKEN { ' ' } else { c }).collect()),
    }
}

fn escape(text: &str, line: &mut String) {
    if !text.bytes().any(|byte| matches!(byte, b'\\' | b'\t' | b'\n' | b'\r')) {
        line.push_str(text);
        return;
    }
    for part in text.split_inclusive(['\\', '\t', '\n', '\r']) {
        let (plain, special) = match part.as_bytes().last() {
            Some(b'\\') => (part.strip_suffix('\\'), "\\\\"),
            Some(b'\t') => (part.strip_suffix('\t'), "\\t"),
            Some(b'\n') => (part.strip_suffix('\n'), "\\n"),
            Some(b'\r') => (part.strip_suffix('\r'), "\\r"),
            _ => (None, ""),
        };
        line.push_str(plain.unwrap_or(part));
        line.push_str(special);
    }
}

#[cfg(test)]
mod tests {
    use super::Lines;

    #[test]
    fn a_path_that_stands_twice_is_a_bug() {
        let lines = |paths: &[&str]| {
            let mut lines = Lines::after("head");
            paths.iter().for_each(|path| lines.add(path, "value"));
            lines.end()
        };
        assert_eq!(lines(&["a", "b", "a/b"]).unwrap(), "head\na\tvalue\nb\tvalue\na/b\tvalue\n");
        assert!(lines(&["a/1", "b", "c", "a/1"]).unwrap_err().to_string().ends_with("have the path a/1"));
    }
}
