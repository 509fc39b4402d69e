//! Values as they stand in a file: one trait reads each of them from its node and describes it for the JSON Schema.

use super::alias::{meant, respelled};
use super::node::{Node, Value};
use super::plain::{plain, plain_number};
use super::reading::Reading;
use super::schema::Schemas;
use crate::ground::{At, Decimal, Findings, Refusal};
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;

/// A value that can be written under a key.
pub trait Written: Sized {
    /// Reads it. What cannot be taken is reported at its place, and leaves nothing.
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self>;
    /// Its JSON Schema.
    fn schema(schemas: &mut Schemas) -> Json;
    /// As it would be typed in a TOML file, whether it stands in one or in a cell: quantities in one spelling.
    #[must_use]
    fn plain(node: &Node) -> Node {
        plain(node)
    }
}

impl Node {
    /// Refuses the value: something else is wanted.
    pub fn refuse(&self, wanted: &str, of: &mut Reading<'_>) {
        of.refuse(self.span, Refusal::new(format!("{} stands where {wanted} is wanted", self.shown())));
    }

    /// The value in a message: numbers and flags as written, else what kind of value it is.
    fn shown(&self) -> String {
        match &self.value {
            Value::Integer(number) => number.to_string(),
            Value::Float(number) => number.to_string(),
            Value::Flag(flag) => flag.to_string(),
            _ => self.kind().to_owned(),
        }
    }

    /// The items of a list, or the parts of a table's cell between its semicolons.
    pub(super) fn items(&self) -> Option<std::borrow::Cow<'_, [Self]>> {
        match &self.value {
            Value::List(items) => Some(items.into()),
            Value::Field(text) => {
                let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
                Some(parts.map(|part| Self { value: Value::Field(part.to_owned()), span: self.span }).collect())
            }
            _ => None,
        }
    }
}

/// A unit that is written as text: what it is, how its text is read, and why a number is refused in its place.
pub struct TextForm<T> {
    /// What is wanted, in words: `a power with its unit`.
    pub what: &'static str,
    /// One that is taken.
    pub example: &'static str,
    /// Reads it.
    pub parse: fn(&str) -> Result<T, Refusal>,
    /// Refuses a number.
    pub refuse_number: fn(&str) -> Refusal,
}

impl<T> TextForm<T> {
    /// Reads a value of this form.
    pub fn read(&self, node: &Node, of: &mut Reading<'_>) -> Option<T> {
        let number = match &node.value {
            Value::Text(text) | Value::Field(text) | Value::Date(text) => {
                let read = Refusal::of_unseen(text).map_or_else(|| (self.parse)(text), Err);
                let is_cell = matches!(node.value, Value::Field(_));
                let read = read.map_err(|refusal| if is_cell { self.of_cell(text, refusal) } else { refusal });
                return read.map_err(|refusal| of.refuse(node.span, refusal)).ok();
            }
            Value::Integer(number) => number.to_string(),
            Value::Float(number) => number.to_string(),
            Value::Flag(_) | Value::List(_) | Value::Table(_) => {
                node.refuse(self.what, of);
                return None;
            }
        };
        of.refuse(node.span, self.refused(&number));
        None
    }

    /// Why a cell is refused: a bare number lacks the unit of its column.
    fn of_cell(&self, text: &str, refusal: Refusal) -> Refusal {
        let is_unit = self.what.contains("unit") || (self.refuse_number)(text).is_bare_number;
        if !is_unit || Decimal::parse(text).is_none() {
            return refusal;
        }
        let unit = self.example.rsplit_once(' ').map_or("MHz", |(_, unit)| unit);
        Refusal::new(format!("{text} has no unit"))
            .help(format!("say it with the column, as `{{ heading = \"...\", unit = \"{unit}\" }}`"))
            .bare_number()
    }

    /// Why a number is refused; with a text to write only where that would be taken.
    fn refused(&self, number: &str) -> Refusal {
        let refusal = (self.refuse_number)(number);
        let proposed = refusal.fix.as_deref().map(|text| text.trim_matches('"'));
        match proposed {
            Some(text) if (self.parse)(text).is_err() => {
                Refusal { fix: None, ..refusal }.help(format!("write it as \"{}\"", self.example))
            }
            _ => refusal,
        }
    }

    /// Its JSON Schema.
    #[must_use]
    pub fn schema(&self) -> Json {
        json!({ "type": "string", "description": self.what, "examples": [self.example] })
    }
}

/// One of a closed list of words: as written, or as the table of aliases has it.
pub fn word(section: &str, words: &[&'static str], node: &Node, of: &mut Reading<'_>) -> Option<&'static str> {
    let (Value::Text(text) | Value::Field(text)) = &node.value else {
        node.refuse("a word", of);
        return None;
    };
    let own = words.iter().copied().find(|own| own == text).or_else(|| respelled(text, words));
    if own.is_none() {
        let refusal = Refusal::new(format!("unknown word \"{text}\""));
        of.refuse(
            node.span,
            match meant(section, text, words) {
                Some((word, _)) => refusal.write(word),
                None => refusal.help(format!("write one of: {}", words.join(", "))),
            },
        );
    }
    own
}

/// Declares a closed list of words: the type, reading, printing and schema from one place.
macro_rules! words_of {
    ($($(#[doc = $doc:literal])* $vis:vis enum $name:ident { $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal,)* })*) => {$(
        $(#[doc = $doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        $vis enum $name { $($(#[doc = $word_doc])* $variant,)* }

        impl $name {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The word as written.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.word())
            }
        }

        impl $crate::source::Written for $name {
            fn read(node: &$crate::source::Node, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                let word = $crate::source::word(&$crate::source::section(stringify!($name)), &[$($word,)*], node, of)?;
                Self::ALL.iter().copied().find(|own| own.word() == word)
            }
            fn schema(schemas: &mut $crate::source::Schemas) -> serde_json::Value {
                schemas.words(stringify!($name), &[$($doc,)*], &[$(($word, &[$($word_doc,)*]),)*])
            }
        }

        $crate::source::plain_field!($name);
    )*};
}
pub(crate) use words_of;

/// Declares how types are written that are read from text by their `parse`: type, name in the schema, what is wanted, an
/// example, how a number is refused.
macro_rules! text_values {
    ($($type:ty, $name:literal, $what:literal, $example:literal, $refuse:expr;)*) => {$(
        impl $crate::source::Written for $type {
            fn read(node: &$crate::source::Node, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                $crate::source::TextForm { what: $what, example: $example, parse: <$type>::parse, refuse_number: $refuse }
                    .read(node, of)
            }
            fn schema(schemas: &mut $crate::source::Schemas) -> serde_json::Value {
                schemas.text($name, $what, $example)
            }
        }
    )*};
}
pub(crate) use text_values;

impl Written for bool {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let flag = match &node.value {
            Value::Flag(flag) => Some(*flag),
            Value::Field(text) => match text.to_lowercase().as_str() {
                "true" | "yes" => Some(true),
                "false" | "no" => Some(false),
                _ => None,
            },
            _ => None,
        };
        if flag.is_none() {
            node.refuse("true or false", of);
        }
        flag
    }
    fn schema(_: &mut Schemas) -> Json {
        json!({ "type": "boolean" })
    }
    fn plain(node: &Node) -> Node {
        let mut unheard = Findings::default();
        let flag = Reading::alone("", node.span, &mut unheard, |of| <Self as Written>::read(node, of));
        flag.map_or_else(|| plain(node), |flag| Node { value: Value::Flag(flag), span: node.span })
    }
}

impl Written for String {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let (Value::Text(text) | Value::Field(text) | Value::Date(text)) = &node.value else {
            node.refuse("text", of);
            return None;
        };
        let refusal = Refusal::of_unseen(text);
        let is_taken = refusal.is_none();
        refusal.into_iter().for_each(|refusal| of.refuse(node.span, refusal));
        is_taken.then(|| text.clone())
    }
    fn schema(_: &mut Schemas) -> Json {
        json!({ "type": "string" })
    }
}

/// Whole numbers up to the most that their type takes.
macro_rules! whole_numbers {
    ($($type:ty, $format:literal;)*) => {$(
        impl Written for $type {
            fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
                let number = match &node.value {
                    Value::Integer(number) => Self::try_from(*number).ok(),
                    Value::Field(text) => text.parse().ok(),
                    _ => None,
                };
                if number.is_none() {
                    node.refuse(&format!("a whole number from 0 to {}", Self::MAX), of);
                }
                number
            }
            fn schema(_: &mut Schemas) -> Json {
                json!({ "type": "integer", "format": $format, "minimum": 0, "maximum": Self::MAX })
            }
            fn plain(node: &Node) -> Node {
                plain_number(node)
            }
        }
    )*};
}

whole_numbers! {
    u8, "uint8";
    u16, "uint16";
    u32, "uint32";
}

/// A value that is read elsewhere.
#[derive(Clone, Copy, Debug)]
pub struct Anything;

impl Written for Anything {
    fn read(_: &Node, _: &mut Reading<'_>) -> Option<Self> {
        Some(Self)
    }
    fn schema(_: &mut Schemas) -> Json {
        json!({})
    }
}

/// The items that are taken, each with its place.
impl<T: Written> Written for Vec<At<T>> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let Some(items) = node.items() else {
            node.refuse("a list", of);
            return None;
        };
        Some(items.iter().filter_map(|item| Some(At::new(T::read(item, of)?, item.span))).collect())
    }
    fn schema(schemas: &mut Schemas) -> Json {
        json!({ "type": "array", "items": T::schema(schemas) })
    }
    fn plain(node: &Node) -> Node {
        let items = node.items().map(|items| items.iter().map(T::plain).collect());
        items.map_or_else(|| plain(node), |items| Node { value: Value::List(items), span: node.span })
    }
}

/// A table whose keys are not ours.
impl<T: Written> Written for BTreeMap<String, At<T>> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let Some(entries) = node.entries() else {
            node.refuse("a table", of);
            return None;
        };
        let read =
            entries.iter().filter_map(|(key, node)| Some((key.text.clone(), At::new(T::read(node, of)?, node.span))));
        Some(read.collect())
    }
    fn schema(schemas: &mut Schemas) -> Json {
        json!({ "type": "object", "additionalProperties": T::schema(schemas) })
    }
}
