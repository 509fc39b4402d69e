//! One written field.

use crate::ground::{At, Span};
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::{Deserialize, Deserializer, SeqAccess, Visitor};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

/// The name by which the reader knows that a place is wanted beside the value.
pub(super) const CELL: &str = "$fieldsheaf-cell";

/// A field that was written: its value, or nothing when the value was refused. The refusal is already a finding.
#[derive(Clone, Debug)]
pub struct Cell<T> {
    /// The value; none when it was refused.
    pub value: Option<T>,
    /// Its text.
    pub span: Span,
}

impl<T> Cell<T> {
    /// The value with its place, when it was not refused.
    pub fn at(self) -> Option<At<T>> {
        Some(At::new(self.value?, self.span))
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Cell<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_newtype_struct(CELL, CellVisitor(PhantomData))
    }
}

struct CellVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for CellVisitor<T> {
    type Value = Cell<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value with its place")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Cell<T>, A::Error> {
        let mut number = || parts.next_element::<u32>().map(Option::unwrap_or_default);
        let (file, start, end) = (number()?, number()?, number()?);
        let span = Span { file: crate::ground::FileId(file), start, end };
        // The reader reports the fault where it happens; what is left here is a hole.
        let value = parts.next_element::<T>().unwrap_or_default();
        Ok(Cell { value, span })
    }
}

impl<T: JsonSchema> JsonSchema for Cell<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<T>()
    }
}
