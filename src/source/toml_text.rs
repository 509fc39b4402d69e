//! TOML text -> nodes. The only place that knows the TOML parser.

use super::depth::too_deep;
use super::node::{Key, Node, Value};
use super::rules::{NESTING_TOO_DEEP, SYNTAX};
use crate::ground::caps::NESTING;
use crate::ground::{FileId, Finding, Findings, Span};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

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
    let (root, faults) = DeTable::parse_recoverable(text);
    for fault in faults {
        let range = fault.span().unwrap_or(0..0);
        let span = Span::new(file, range.start, range.end);
        found.push(Finding::new(&SYNTAX, span, one_line(fault.message())).label("cannot be read"));
    }
    let range = root.span();
    let span = Span::new(file, range.start, range.end);
    Node { value: table(file, root.into_inner()), span }
}

fn one_line(message: &str) -> String {
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn table(file: FileId, map: DeTable<'_>) -> Value {
    let mut entries: Vec<(Key, Node)> = map
        .into_iter()
        .map(|(key, value)| {
            let range = key.span();
            let span = Span::new(file, range.start, range.end);
            (Key { text: key.into_inner().into_owned(), span }, node(file, value))
        })
        .collect();
    entries.sort_by_key(|(key, _)| key.span);
    Value::Table(entries)
}

fn node(file: FileId, value: Spanned<DeValue<'_>>) -> Node {
    let range = value.span();
    let span = Span::new(file, range.start, range.end);
    let value = match value.into_inner() {
        DeValue::String(text) => Value::Text(text.into_owned()),
        DeValue::Integer(number) => {
            let digits = number.as_str();
            i64::from_str_radix(digits, number.radix()).map_or_else(|_| Value::Text(digits.to_owned()), Value::Integer)
        }
        DeValue::Float(number) => {
            number.as_str().parse().map_or_else(|_| Value::Text(number.as_str().to_owned()), Value::Float)
        }
        DeValue::Boolean(flag) => Value::Flag(flag),
        DeValue::Datetime(date) => Value::Date(date.to_string()),
        DeValue::Array(list) => Value::List(list.into_iter().map(|item| node(file, item)).collect()),
        DeValue::Table(map) => table(file, map),
    };
    Node { value, span }
}
