//! What the type of a field says of its key: must be there, may be there, a list, a record of its own.

use super::node::{Key, Node, Value};
use super::plain::plain;
use super::reading::{Reading, Tried};
use super::record::{Declared, Keys, Meant, plain_record, record_of, schema_of};
use super::schema::{KeySchemas, Schemas};
use super::written::Written;
use crate::ground::{At, Span};
use serde_json::json;

/// What a field of a record is read from: one key, several, or none.
pub trait Field: Sized {
    /// The keys, in order.
    fn keys(key: &'static str, into: &mut Vec<&'static str>) {
        into.push(key);
    }
    /// Reads the field. None when the record cannot be without it, which is reported.
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self>;
    /// Describes its keys.
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas);
    /// What stands under its keys, as it would be typed in a TOML file.
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, plain, into);
    }
}

/// Puts what stands under a key behind the others, as `how` has it.
fn entry(keys: &Keys<'_>, key: &str, how: impl Fn(&Node) -> Node, into: &mut Vec<(Key, Node)>) {
    into.extend(keys.get(key).map(|node| (Key { text: key.to_owned(), span: node.span }, how(node))));
}

/// A field that is made of what is written and of something that the record says beside it: a default, mostly.
pub trait Partly: Sized {
    /// What is written.
    type Written: Field;
}

/// How such a field is settled by a `D`.
pub trait SettledBy<D>: Partly {
    /// The field. None when it cannot be, which is reported.
    fn settle(written: Self::Written, by: D, of: &mut Reading<'_>) -> Option<Self>;
}

/// What stands for a value that is left out: it has the place of its record, or one of its own.
pub trait Implied<T> {
    /// The value, in a record at `record`.
    fn at(self, record: Span) -> At<T>;
}

impl<T> Implied<T> for T {
    fn at(self, record: Span) -> At<T> {
        At::new(self, record)
    }
}

impl<T> Implied<T> for At<T> {
    fn at(self, _: Span) -> At<T> {
        self
    }
}

impl<T: Written> Partly for At<T> {
    type Written = Option<Self>;
}

impl<T: Written, D: Implied<T>> SettledBy<D> for At<T> {
    fn settle(written: Option<Self>, by: D, of: &mut Reading<'_>) -> Option<Self> {
        Some(written.unwrap_or_else(|| by.at(of.span)))
    }
}

/// A key that must be there.
impl<T: Written> Field for At<T> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        let Some(node) = keys.get(key) else {
            of.missing(key);
            return None;
        };
        Some(Self::new(T::read(node, of)?, node.span))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, T::schema(schemas));
        keys.require(key);
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, T::plain, into);
    }
}

/// A key that may be there; a refused value is as good as none, since its record is left out.
impl<T: Written> Field for Option<At<T>> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        Some(keys.get(key).and_then(|node| Some(At::new(T::read(node, of)?, node.span))))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, T::schema(schemas));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, T::plain, into);
    }
}

/// A key that may be there, and that is told apart from none where its value was refused.
impl<T: Written> Field for Option<Tried<T>> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        Some(keys.get(key).map(|node| Tried { value: T::read(node, of), span: node.span }))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, T::schema(schemas));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, T::plain, into);
    }
}

/// A list that may be there, without its refused items.
impl<T: Written> Field for Vec<At<T>> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        Some(keys.get(key).and_then(|node| <Self as Written>::read(node, of)).unwrap_or_default())
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, <Self as Written>::schema(schemas));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, <Self as Written>::plain, into);
    }
}

/// False when left out.
impl Field for bool {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        Some(keys.get(key).and_then(|node| <Self as Written>::read(node, of)).unwrap_or(false))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, <Self as Written>::schema(schemas));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, <Self as Written>::plain, into);
    }
}

/// The place of the record itself.
impl Field for Span {
    fn keys(_: &'static str, _: &mut Vec<&'static str>) {}
    fn take(_: &Keys<'_>, _: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        Some(of.span)
    }
    fn describe(_: &'static str, _: &[&str], _: &mut KeySchemas, _: &mut Schemas) {}
    fn plain(_: &Keys<'_>, _: &'static str, _: &mut Vec<(Key, Node)>) {}
}

/// A group of keys that stand in the record itself.
impl<T: Meant> Field for T {
    fn keys(_: &'static str, into: &mut Vec<&'static str>) {
        <T::Written as Declared>::keys(into);
    }
    fn take(keys: &Keys<'_>, _: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        let written = T::Written::read(keys, of)?;
        T::mean(written, of)
    }
    fn describe(_: &'static str, _: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        <T::Written as Declared>::describe(keys, schemas);
    }
    fn plain(keys: &Keys<'_>, _: &'static str, into: &mut Vec<(Key, Node)>) {
        <T::Written as Declared>::plain(keys, into);
    }
}

/// One table under a key. What it must have is asked of the record: `transmit.allowed`.
impl<T: Meant> Field for Option<T> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        let Some(node) = keys.get(key) else { return Some(None) };
        let mut inner = of.inner(of.kind, of.span);
        inner.within = Some(key);
        Some(record_of(node, &mut inner))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, schema_of::<T>(schemas));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        entry(keys, key, plain_record::<T>, into);
    }
}

/// A list of tables under a key. Each asks for its own keys, at its own place.
impl<T: Meant> Field for Vec<T> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        let Some(node) = keys.get(key) else { return Some(Self::new()) };
        // Columns of a table fill the keys of one.
        let one = matches!(node.value, Value::Table(_)).then(|| std::slice::from_ref(node).into());
        let Some(items) = one.or_else(|| node.items()) else {
            node.refuse("a list", of);
            return Some(Self::new());
        };
        Some(items.iter().filter_map(|item| record_of(item, &mut of.inner(T::Written::KIND, item.span))).collect())
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(key, doc, json!({ "type": "array", "items": schema_of::<T>(schemas) }));
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        let how = |node: &Node| {
            let one = matches!(node.value, Value::Table(_)).then(|| std::slice::from_ref(node).into());
            let items = one.or_else(|| node.items()).unwrap_or_default();
            Node { value: Value::List(items.iter().map(plain_record::<T>).collect()), span: node.span }
        };
        entry(keys, key, how, into);
    }
}

/// Lets fields hold a value without its place: one that must be there, one that may, and a list.
macro_rules! plain_field {
    ($($type:ty),* $(,)?) => {$(
        impl $crate::source::Field for $type {
            fn take(keys: &$crate::source::Keys<'_>, key: &'static str, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                Some(<$crate::ground::At<Self> as $crate::source::Field>::take(keys, key, of)?.value)
            }
            fn describe(key: &'static str, doc: &[&str], keys: &mut $crate::source::KeySchemas, schemas: &mut $crate::source::Schemas) {
                <$crate::ground::At<Self> as $crate::source::Field>::describe(key, doc, keys, schemas);
            }
            fn plain(keys: &$crate::source::Keys<'_>, key: &'static str, into: &mut Vec<($crate::source::Key, $crate::source::Node)>) {
                <$crate::ground::At<Self> as $crate::source::Field>::plain(keys, key, into);
            }
        }
        impl $crate::source::Field for Option<$type> {
            fn take(keys: &$crate::source::Keys<'_>, key: &'static str, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                Some(<Option<$crate::ground::At<$type>> as $crate::source::Field>::take(keys, key, of)?.map(|at| at.value))
            }
            fn describe(key: &'static str, doc: &[&str], keys: &mut $crate::source::KeySchemas, schemas: &mut $crate::source::Schemas) {
                <Option<$crate::ground::At<$type>> as $crate::source::Field>::describe(key, doc, keys, schemas);
            }
            fn plain(keys: &$crate::source::Keys<'_>, key: &'static str, into: &mut Vec<($crate::source::Key, $crate::source::Node)>) {
                <Option<$crate::ground::At<$type>> as $crate::source::Field>::plain(keys, key, into);
            }
        }
        impl $crate::source::Field for Vec<$type> {
            fn take(keys: &$crate::source::Keys<'_>, key: &'static str, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                let list = <Vec<$crate::ground::At<$type>> as $crate::source::Field>::take(keys, key, of)?;
                Some(list.into_iter().map(|at| at.value).collect())
            }
            fn describe(key: &'static str, doc: &[&str], keys: &mut $crate::source::KeySchemas, schemas: &mut $crate::source::Schemas) {
                <Vec<$crate::ground::At<$type>> as $crate::source::Field>::describe(key, doc, keys, schemas);
            }
            fn plain(keys: &$crate::source::Keys<'_>, key: &'static str, into: &mut Vec<($crate::source::Key, $crate::source::Node)>) {
                <Vec<$crate::ground::At<$type>> as $crate::source::Field>::plain(keys, key, into);
            }
        }
    )*};
}
pub(crate) use plain_field;

plain_field!(String, u8);
