//! TOML text -> nodes. The only place that knows the TOML parser.

use super::depth::too_deep;
use super::node::{Key, Node, Value};
use super::rules::{NESTING_TOO_DEEP, SYNTAX};
use crate::ground::caps::NESTING;
use crate::ground::{FileId, Finding, Findings, Span, plural};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// A text without a fault, or a part of one that begins at a byte of it, as one table. None where it has a fault.
pub(super) fn table_of(file: FileId, text: &str, from: usize) -> Option<Node> {
    let root = DeTable::parse(text).ok()?;
    let place = TextPlace { file, from };
    Some(Node { span: place.span(&root.span()), value: place.table(root.into_inner()) })
}

/// Reads a whole TOML text as one table; faults of syntax become findings, and what can still be read is returned. Nothing of a
/// text that nests too deep.
pub fn parse(file: FileId, text: &str, found: &mut Findings) -> Node {
    if let Some(range) = too_deep(text) {
        let span = Span::new(file, range.start, range.end);
        let what = format!("tables and lists nest deeper than {} levels", NESTING.most);
        let finding = Finding::new(&NESTING_TOO_DEEP, span, what).label(format!("level {}", NESTING.most + 1));
        found.push(finding.help("remove this value: no record of a plan nests deeper than ten levels"));
        return Node { value: Value::Table(Vec::new()), span: Span::new(file, 0, 0) };
    }
    let (root, faults) = recovered(text);
    for fault in faults.iter().take(FAULTS_TOLD) {
        found.push(Finding::new(&SYNTAX, place(file, fault), one_line(fault.message())).label("cannot be read"));
    }
    if let Some(next) = faults.get(FAULTS_TOLD) {
        let further = plural(faults.len() - FAULTS_TOLD, "fault");
        let what = format!("from here on there are {further} of this kind more");
        let finding = Finding::new(&SYNTAX, place(file, next), what).label("the next of them");
        found.push(finding.help("mend those before it first"));
    }
    let place = TextPlace { file, from: 0 };
    Node { span: place.span(&root.span()), value: place.table(root.into_inner()) }
}

/// How many faults of syntax in one file are told each by itself: one slip seldom makes more, and a file of another kind makes millions.
const FAULTS_TOLD: usize = 100;
/// Up to how many bytes a text with a fault is read on behind it: each byte may be a fault, and each fault takes some 400 bytes.
const READ_ON: usize = 1 << 18;

/// A text as far as it can be read, and its faults in order; of a very long text with a fault the first alone.
fn recovered(text: &str) -> (Spanned<DeTable<'_>>, Vec<toml::de::Error>) {
    match DeTable::parse(text) {
        Ok(root) => (root, Vec::new()),
        Err(first) if text.len() > READ_ON => (Spanned::new(0..0, DeTable::new()), vec![first]),
        Err(_) => DeTable::parse_recoverable(text),
    }
}

fn place(file: FileId, fault: &toml::de::Error) -> Span {
    let range = fault.span().unwrap_or(0..0);
    Span::new(file, range.start, range.end)
}

fn one_line(message: &str) -> String {
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Where a text that is read stands.
#[derive(Clone, Copy)]
struct TextPlace {
    file: FileId,
    /// Its first byte.
    from: usize,
}

impl TextPlace {
    fn span(self, range: &Range<usize>) -> Span {
        Span::new(self.file, self.from + range.start, self.from + range.end)
    }

    fn table(self, map: DeTable<'_>) -> Value {
        let entry = |(key, value): (Spanned<DeString<'_>>, Spanned<DeValue<'_>>)| {
            let span = self.span(&key.span());
            (Key { text: key.into_inner().into_owned(), span }, self.node(value))
        };
        let mut entries: Vec<(Key, Node)> = map.into_iter().map(entry).collect();
        entries.sort_by_key(|(key, _)| key.span);
        Value::Table(entries)
    }

    fn node(self, value: Spanned<DeValue<'_>>) -> Node {
        let span = self.span(&value.span());
        let value = match value.into_inner() {
            DeValue::String(text) => Value::Text(text.into_owned()),
            DeValue::Integer(number) => {
                let digits = number.as_str();
                // One of more digits than any value has is still a number.
                let larger = |_| digits.parse().map_or_else(|_| Value::Text(digits.to_owned()), Value::Float);
                i64::from_str_radix(digits, number.radix()).map_or_else(larger, Value::Integer)
            }
            DeValue::Float(number) => {
                number.as_str().parse().map_or_else(|_| Value::Text(number.as_str().to_owned()), Value::Float)
            }
            DeValue::Boolean(flag) => Value::Flag(flag),
            DeValue::Datetime(date) => Value::Date(date.to_string()),
            DeValue::Array(list) => Value::List(list.into_iter().map(|item| self.node(item)).collect()),
            DeValue::Table(map) => self.table(map),
        };
        Node { value, span }
    }
}
