//! What was written, as a tree with places: the same for a TOML table, a CSV row and a table of our own.

use crate::ground::Span;

/// A written value and its place.
#[derive(Clone, PartialEq, Debug)]
pub struct Node {
    /// The value.
    pub value: Value,
    /// Its text; for a table under a header, the header.
    pub span: Span,
}

/// A written value.
#[derive(Clone, PartialEq, Debug)]
pub enum Value {
    /// A string.
    Text(String),
    /// A cell of a table: text that becomes a list (parted by `;`) or a table (as its first key) where one is expected.
    Field(String),
    /// A whole number.
    Integer(i64),
    /// A number with decimals.
    Float(f64),
    /// True or false.
    Flag(bool),
    /// A date or time, as written.
    Date(String),
    /// A list.
    List(Vec<Node>),
    /// A table.
    Table(Vec<(Key, Node)>),
}

/// A key and its place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Key {
    /// The key.
    pub text: String,
    /// Its place.
    pub span: Span,
}

impl Node {
    /// The entries, when it is a table.
    #[must_use]
    pub fn entries(&self) -> Option<&[(Key, Node)]> {
        match &self.value {
            Value::Table(entries) => Some(entries),
            _ => None,
        }
    }

    /// The value under a key, when it is a table that has it.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Node> {
        self.entries()?.iter().find(|(name, _)| name.text == key).map(|(_, node)| node)
    }

    /// The text, when it is one.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match &self.value {
            Value::Text(text) | Value::Field(text) => Some(text),
            _ => None,
        }
    }

    /// What kind of value it is, for messages.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self.value {
            Value::Text(_) | Value::Field(_) => "text",
            Value::Integer(_) | Value::Float(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::Date(_) => "a date",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}
