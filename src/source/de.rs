//! Reads a record from a node through serde, reporting every fault on the way.
//!
//! A value that is refused leaves a hole in its [`super::Cell`] and a finding here; reading goes on.

use super::alias::{meant, meant_for_text, respelled, section};
use super::cell::CELL;
use super::node::{Key, Node, Value};
use super::rules::{BAD_VALUE, BARE_NUMBER, UNKNOWN_KEY};
use crate::ground::{Finding, Findings, Refusal, Span};
use serde::de::{self, DeserializeSeed, Deserializer, IntoDeserializer, MapAccess, SeqAccess, Unexpected, Visitor};
use serde::forward_to_deserialize_any;
use std::cell::RefCell;
use std::fmt;

/// A record as read.
#[derive(Clone, Debug)]
pub struct Read<T> {
    /// The fields; refused ones are holes.
    pub written: T,
    /// The record's header.
    pub span: Span,
    /// Whether nothing in it was refused or unknown.
    pub is_whole: bool,
}

/// Reads one record. `None` only when the node is no table, which is then a finding.
pub fn record<T: de::DeserializeOwned>(node: &Node, found: &mut Findings) -> Option<Read<T>> {
    let faults = RefCell::new(Findings::default());
    let result = T::deserialize(NodeReader { node, faults: &faults });
    let mut faults = faults.into_inner();
    let written = match result {
        Ok(written) => Some(written),
        Err(fault) => {
            faults.push(refused(node, &fault));
            None
        }
    };
    let is_whole = faults.is_empty();
    found.append(faults);
    Some(Read { written: written?, span: node.span, is_whole })
}

fn refused(node: &Node, fault: &Fault) -> Finding {
    let refusal = Refusal::from_text(&fault.0);
    let rule = if refusal.is_bare_number { &BARE_NUMBER } else { &BAD_VALUE };
    let finding = Finding::new(rule, node.span, refusal.what).label("cannot be taken");
    let finding = match refusal.help {
        Some(help) => finding.help(help),
        None => finding,
    };
    match refusal.fix {
        Some(fix) => finding.fix(node.span, fix),
        None => finding,
    }
}

/// What serde carries: the text of a [`Refusal`].
#[derive(Debug)]
struct Fault(String);

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Fault {}

impl de::Error for Fault {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(message.to_string())
    }

    // What serde says by itself would name types of the program.
    fn invalid_type(unexpected: Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self(Refusal::new(format!("{} stands where {expected} is wanted", plain(unexpected))).to_string())
    }

    fn invalid_value(unexpected: Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self::invalid_type(unexpected, expected)
    }
}

/// A written value in words.
fn plain(unexpected: Unexpected<'_>) -> String {
    match unexpected {
        Unexpected::Bool(flag) => flag.to_string(),
        Unexpected::Unsigned(number) => number.to_string(),
        Unexpected::Signed(number) => number.to_string(),
        Unexpected::Float(number) => number.to_string(),
        Unexpected::Str(_) | Unexpected::Char(_) => "text".to_owned(),
        Unexpected::Seq => "a list".to_owned(),
        Unexpected::Map | Unexpected::StructVariant => "a table".to_owned(),
        _ => "something else".to_owned(),
    }
}

#[derive(Clone, Copy)]
struct NodeReader<'a> {
    node: &'a Node,
    faults: &'a RefCell<Findings>,
}

impl<'a> NodeReader<'a> {
    fn wanted(self, what: &str) -> Fault {
        let written = match &self.node.value {
            Value::Integer(number) => number.to_string(),
            Value::Float(number) => number.to_string(),
            Value::Flag(flag) => flag.to_string(),
            _ => self.node.kind().to_owned(),
        };
        Fault(Refusal::new(format!("{written} stands where {what} is wanted")).to_string())
    }

    /// A whole number up to the most that its key takes.
    fn whole<'de, V: Visitor<'de>>(self, most: u64, visitor: V) -> Result<V::Value, Fault> {
        let number = match &self.node.value {
            Value::Integer(number) => u64::try_from(*number).ok(),
            Value::Field(text) => text.parse().ok(),
            _ => None,
        };
        match number.filter(|number| *number <= most) {
            Some(number) => visitor.visit_u64(number),
            None => Err(self.wanted(&format!("a whole number from 0 to {most}"))),
        }
    }

    /// The entries of a record under our own keys; what is no key of it is reported, as is one that is written in both spellings.
    fn known_entries(
        self,
        entries: &'a [(Key, Node)],
        (record, known): (&str, &'static [&'static str]),
    ) -> Vec<(&'a str, &'a Node)> {
        let mut taken: Vec<(&'a str, &'a Node)> = Vec::new();
        for (key, node) in entries {
            let own = known.iter().copied().find(|own| *own == key.text).or_else(|| respelled(&key.text, known));
            match own {
                None => self.faults.borrow_mut().push(unknown_key(key, entries, (record, known))),
                Some(own) if taken.iter().any(|(other, _)| *other == own) => {
                    let what = format!("`{}` is written twice, in two spellings", key.text);
                    let finding = Finding::new(&BAD_VALUE, key.span, what).label("the second of them");
                    self.faults.borrow_mut().push(finding.help("keep one of them"));
                }
                Some(own) => match key_for_text(node, &section(record), own) {
                    Some(meant) => self.faults.borrow_mut().push(misplaced_text(key, node, meant)),
                    None => taken.push((own, node)),
                },
            }
        }
        taken
    }
}

fn key_for_text(node: &Node, section: &str, key: &str) -> Option<&'static str> {
    matches!(node.value, Value::Text(_)).then(|| meant_for_text(section, key)).flatten()
}

/// A text under a key that takes a list, where another key takes the text.
fn misplaced_text(key: &Key, node: &Node, meant: &str) -> Finding {
    let what = format!("text stands under `{}`, where a list is wanted", key.text);
    let finding = Finding::new(&BAD_VALUE, node.span, what).label("cannot be taken");
    finding.help(format!("write `{meant}` in place of `{}`", key.text)).fix(key.span, meant)
}

fn unknown_key(key: &Key, entries: &[(Key, Node)], (record, known): (&str, &'static [&'static str])) -> Finding {
    let finding =
        Finding::new(&UNKNOWN_KEY, key.span, format!("unknown key `{}`", key.text)).label("not a key of this record");
    match meant(&section(record), &key.text, known) {
        Some((name, _)) if entries.iter().any(|(other, _)| other.text == name) => {
            finding.help(format!("leave it out: `{name}` is written already"))
        }
        Some((name, true)) => finding.help(format!("write `{name}`")).fix(key.span, name),
        Some((name, false)) => finding.help(format!("did you mean `{name}`?")).fix(key.span, name),
        None => finding.note(format!("known keys: {}", known.join(", "))),
    }
}

impl<'de> Deserializer<'de> for NodeReader<'_> {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match &self.node.value {
            Value::Text(text) | Value::Field(text) | Value::Date(text) => match Refusal::of_unseen(text) {
                Some(refusal) => Err(Fault(refusal.to_string())),
                None => visitor.visit_str(text),
            },
            Value::Integer(number) => visitor.visit_i64(*number),
            Value::Float(number) => visitor.visit_f64(*number),
            Value::Flag(flag) => visitor.visit_bool(*flag),
            Value::List(_) => self.deserialize_seq(visitor),
            Value::Table(entries) => visitor
                .visit_map(Entries::new(self, entries.iter().map(|(key, node)| (key.text.as_str(), node)).collect())),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, name: &'static str, visitor: V) -> Result<V::Value, Fault> {
        if name == CELL {
            visitor.visit_seq(Parts { reader: self, step: 0 })
        } else {
            visitor.visit_newtype_struct(self)
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match &self.node.value {
            Value::List(items) => visitor.visit_seq(Items { reader: self, items: items.iter() }),
            Value::Field(text) => {
                let parts: Vec<Node> = split_field(text, self.node.span);
                visitor.visit_seq(Items {
                    reader: NodeReader { node: self.node, faults: self.faults },
                    items: parts.iter(),
                })
            }
            _ => Err(self.wanted("a list")),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        match &self.node.value {
            Value::Table(entries) => visitor.visit_map(Entries::new(self, self.known_entries(entries, (name, fields)))),
            Value::Field(text) => {
                let node = Node { value: Value::Field(text.clone()), span: self.node.span };
                let first = fields.first().copied().unwrap_or_default();
                visitor.visit_map(Entries::new(self, vec![(first, &node)]))
            }
            _ => Err(self.wanted("a table")),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match &self.node.value {
            Value::Table(_) => self.deserialize_any(visitor),
            _ => Err(self.wanted("a table")),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let (Value::Text(text) | Value::Field(text)) = &self.node.value else {
            return Err(self.wanted("a word"));
        };
        let own = variants.iter().copied().find(|own| own == text).or_else(|| respelled(text, variants));
        if let Some(own) = own {
            return visitor.visit_enum(own.into_deserializer());
        }
        let refusal = Refusal::new(format!("unknown word \"{text}\""));
        let refusal = match meant(&section(name), text, variants) {
            Some((word, _)) => refusal.write(word),
            None => refusal.help(format!("write one of: {}", variants.join(", "))),
        };
        Err(Fault(refusal.to_string()))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.node.value {
            Value::Flag(flag) => visitor.visit_bool(flag),
            _ => Err(self.wanted("true or false")),
        }
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.whole(u8::MAX.into(), visitor)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.whole(u16::MAX.into(), visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.whole(u32::MAX.into(), visitor)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.node.value {
            Value::Text(_) | Value::Field(_) | Value::Date(_) => self.deserialize_any(visitor),
            _ => Err(self.wanted("text")),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_str(visitor)
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u64 u128 f32 f64 char bytes byte_buf
        unit unit_struct tuple tuple_struct identifier ignored_any
    }
}

/// The parts of a roster cell between its semicolons.
fn split_field(text: &str, span: Span) -> Vec<Node> {
    let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
    parts.map(|part| Node { value: Value::Field(part.to_owned()), span }).collect()
}

/// File, start, end and value of a cell.
struct Parts<'a> {
    reader: NodeReader<'a>,
    step: u8,
}

impl<'de> SeqAccess<'de> for Parts<'_> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        let span = self.reader.node.span;
        self.step += 1;
        let number = match self.step {
            1 => span.file.0,
            2 => span.start,
            3 => span.end,
            _ => {
                let result = seed.deserialize(self.reader);
                if let Err(fault) = &result {
                    self.reader.faults.borrow_mut().push(refused(self.reader.node, fault));
                }
                return result.map(Some);
            }
        };
        seed.deserialize(number.into_deserializer()).map(Some)
    }
}

struct Items<'a, 'n> {
    reader: NodeReader<'a>,
    items: std::slice::Iter<'n, Node>,
}

impl<'de> SeqAccess<'de> for Items<'_, '_> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        let Some(node) = self.items.next() else { return Ok(None) };
        seed.deserialize(NodeReader { node, faults: self.reader.faults }).map(Some)
    }
}

struct Entries<'a, 'n> {
    reader: NodeReader<'a>,
    entries: std::vec::IntoIter<(&'n str, &'n Node)>,
    value: Option<&'n Node>,
}

impl<'a, 'n> Entries<'a, 'n> {
    fn new(reader: NodeReader<'a>, entries: Vec<(&'n str, &'n Node)>) -> Self {
        Self { reader, entries: entries.into_iter(), value: None }
    }
}

impl<'de> MapAccess<'de> for Entries<'_, '_> {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Fault> {
        let Some((key, node)) = self.entries.next() else { return Ok(None) };
        self.value = Some(node);
        seed.deserialize(key.into_deserializer()).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        let Some(node) = self.value.take() else { return Err(self.reader.wanted("a value")) };
        seed.deserialize(NodeReader { node, faults: self.reader.faults })
    }
}
