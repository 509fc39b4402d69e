//! Records: how one is declared, and how its fields are read from the keys of a table.

use super::alias::{meant, meant_for_text, respelled};
use super::node::{Key, Node, Value};
use super::plain::plain;
use super::reading::Reading;
use super::rules::{BAD_VALUE, UNKNOWN_KEY};
use super::schema::{KeySchemas, Schemas};
use crate::ground::{Finding, Findings};
use serde_json::Value as Json;

/// A table whose keys are declared by `record!`.
pub trait Declared: Sized {
    /// What findings, the schema and the table of aliases call it.
    const KIND: &'static str;
    /// Its keys, in order.
    fn keys(into: &mut Vec<&'static str>);
    /// Reads all of its fields. None when one that must be there is missing or refused, which is reported.
    fn read(keys: &Keys<'_>, of: &mut Reading<'_>) -> Option<Self>;
    /// Describes its keys.
    fn describe(keys: &mut KeySchemas, schemas: &mut Schemas);
    /// What stands under its keys, in their order, as it would be typed in a TOML file.
    fn plain(keys: &Keys<'_>, into: &mut Vec<(Key, Node)>);
    /// What it is.
    const DOC: &'static [&'static str];
}

/// A record as meant, from what was written. Whatever is declared means itself; a record with logic of its own declares what is
/// written as another type, and says here what that means.
pub trait Meant: Sized {
    /// As written.
    type Written: Declared;
    /// What was meant. None when that cannot be said, which is reported.
    fn mean(written: Self::Written, of: &mut Reading<'_>) -> Option<Self>;
}

impl<T: Declared> Meant for T {
    type Written = Self;
    fn mean(written: Self, _: &mut Reading<'_>) -> Option<Self> {
        Some(written)
    }
}

/// Reads a record from its table.
pub fn record_of<T: Meant>(node: &Node, of: &mut Reading<'_>) -> Option<T> {
    let keys = Keys::of::<T::Written>(node, of)?;
    let written = <T::Written as Declared>::read(&keys, of)?;
    T::mean(written, of)
}

/// A record as it would be typed in a TOML file, whether it stands in one or in a row of a table; what is no table stays as it is.
#[must_use]
pub fn plain_record<T: Meant>(node: &Node) -> Node {
    let mut unheard = Findings::default();
    let keys = Reading::alone(T::Written::KIND, node.span, &mut unheard, |of| Keys::of::<T::Written>(node, of));
    let Some(keys) = keys else { return plain(node) };
    let mut entries = Vec::new();
    <T::Written as Declared>::plain(&keys, &mut entries);
    Node { value: Value::Table(entries), span: node.span }
}

/// The JSON Schema of a record.
pub fn schema_of<T: Meant>(schemas: &mut Schemas) -> Json {
    schemas.named(T::Written::KIND, |schemas| {
        let mut keys = KeySchemas::default();
        <T::Written as Declared>::describe(&mut keys, schemas);
        keys.into_table(T::Written::DOC)
    })
}

/// The entries of one table under the keys that were declared.
pub struct Keys<'a> {
    entries: Vec<(&'static str, &'a Node)>,
}

impl<'a> Keys<'a> {
    /// The entries of a table; what is no key of it is reported, as is one that is written in both spellings.
    fn of<T: Declared>(node: &'a Node, of: &mut Reading<'_>) -> Option<Self> {
        let mut known = Vec::new();
        <T as Declared>::keys(&mut known);
        match &node.value {
            Value::Table(entries) => Some(Self { entries: known_entries(entries, T::KIND, &known, of.found) }),
            // A cell of a roster is the first key of its record.
            Value::Field(_) => Some(Self { entries: known.first().map(|key| (*key, node)).into_iter().collect() }),
            _ => {
                node.refuse("a table", of);
                None
            }
        }
    }

    /// The value under a key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&'a Node> {
        self.entries.iter().find(|(own, _)| *own == key).map(|(_, node)| *node)
    }
}

fn known_entries<'a>(
    entries: &'a [(Key, Node)],
    kind: &str,
    known: &[&'static str],
    found: &mut Findings,
) -> Vec<(&'static str, &'a Node)> {
    let mut taken: Vec<(&'static str, &'a Node)> = Vec::with_capacity(entries.len());
    let for_text = meant_for_text(kind);
    for (key, node) in entries {
        let own = known.iter().copied().find(|own| *own == key.text).or_else(|| respelled(&key.text, known));
        match own {
            None => found.push(unknown_key(key, entries, (kind, known))),
            Some(own) if taken.iter().any(|(other, _)| *other == own) => {
                // Of one spelling there are two only where a row of a group writes what the group has.
                let is_of_group = entries.iter().filter(|(other, _)| other.text == key.text).count() > 1;
                let how = if is_of_group { "here and for the whole group" } else { "in two spellings" };
                let what = format!("`{}` is written twice, {how}", key.text);
                let finding = Finding::new(&BAD_VALUE, key.span, what).label("the second of them");
                found.push(finding.help("keep one of them"));
            }
            Some(own) => match key_for_text(node, for_text, own) {
                Some(meant) => found.push(misplaced_text(key, node, meant)),
                None => taken.push((own, node)),
            },
        }
    }
    taken
}

fn key_for_text(node: &Node, for_text: &'static [(String, String)], key: &str) -> Option<&'static str> {
    let (_, meant) = for_text.iter().find(|(theirs, _)| theirs == key)?;
    // What says nothing is no better under another key.
    matches!(&node.value, Value::Text(text) if text.chars().any(char::is_alphanumeric)).then_some(meant)
}

/// A text under a key that takes a list, where another key takes the text.
fn misplaced_text(key: &Key, node: &Node, meant: &str) -> Finding {
    let what = format!("text stands under `{}`, where a list is wanted", key.text);
    let finding = Finding::new(&BAD_VALUE, node.span, what).label("cannot be taken");
    finding.help(format!("write `{meant}` in place of `{}`", key.text)).fix(key.span, meant)
}

fn unknown_key(key: &Key, entries: &[(Key, Node)], (kind, known): (&str, &[&'static str])) -> Finding {
    let finding =
        Finding::new(&UNKNOWN_KEY, key.span, format!("unknown key `{}`", key.text)).label("not a key of this record");
    match meant(kind, &key.text, known) {
        Some((name, _)) if entries.iter().any(|(other, _)| other.text == name) => {
            finding.help(format!("leave it out: `{name}` is written already"))
        }
        Some((name, true)) => finding.help(format!("write `{name}`")).fix(key.span, name),
        Some((name, false)) => finding.help(format!("did you mean `{name}`?")).fix(key.span, name),
        None => finding.note(format!("known keys: {}", known.join(", "))),
    }
}

/// Declares a record, once for all: the type with its docs, its keys, what must be there, what stands for a key that is left
/// out, how it is read and its JSON Schema.
///
/// ```text
/// record! {
///     /// `[[cabinet]]`: where spare parts are kept.
///     #[derive(Clone, Debug)]
///     pub struct Cabinet = "cabinet" {
///         /// Unique among cabinets.
///         id: At<Id>,
///         /// Name on its door; its id's words when left out.
///         name: At<Words> = words_of(&id),
///         /// The place where it stands.
///         place: Option<At<Ref<Place>>>,
///         /// Who has a key.
///         keepers as "keeper": Vec<At<Ref<Member>>>,
///         /// Whether it is locked.
///         is_locked as "locked": bool,
///         /// The record.
///         span: Span,
///     }
/// }
/// ```
///
/// A field's type says whether its key must be there: `At<T>` must, `Option<At<T>>` and `Vec<At<T>>` may be left out, a list that
/// must be there is `At<Vec<At<T>>>`, and a `bool` is false when left out. A value without `At` forgets its place. `Option<R>` and
/// `Vec<R>` are tables inside the record; a bare `R` is a group of keys that stand in the record itself. What follows `=` settles
/// the field ([`SettledBy`]): a value for a key that is left out, made of the fields before it where need be. The key is the
/// field's name with hyphens, or what follows `as`.
macro_rules! record {
    ($($(#[doc = $doc:literal])* $(#[derive($($derive:ident),*)])? $vis:vis struct $name:ident = $kind:literal {
        $($(#[doc = $field_doc:literal])* $field:ident $(as $key:literal)? : $type:ty $(= $default:expr)?,)*
    })*) => {$(
        $(#[doc = $doc])*
        $(#[derive($($derive),*)])?
        $vis struct $name { $($(#[doc = $field_doc])* pub $field: $type,)* }

        impl $crate::source::Declared for $name {
            const KIND: &'static str = $kind;
            const DOC: &'static [&'static str] = &[$($doc),*];
            fn keys(into: &mut Vec<&'static str>) {
                $(<$crate::source::taken_as!($type $(, $default)?) as $crate::source::Field>::keys(
                    $crate::source::key_of!($field $(, $key)?), into);)*
            }
            fn read(keys: &$crate::source::Keys<'_>, of: &mut $crate::source::Reading<'_>) -> Option<Self> {
                $(let $field = <$crate::source::taken_as!($type $(, $default)?) as $crate::source::Field>::take(
                    keys, $crate::source::key_of!($field $(, $key)?), of);)*
                $(let $field = $crate::source::settled!($field, $type, of $(, $default)?)?;)*
                Some(Self { $($field),* })
            }
            fn describe(keys: &mut $crate::source::KeySchemas, schemas: &mut $crate::source::Schemas) {
                $(<$crate::source::taken_as!($type $(, $default)?) as $crate::source::Field>::describe(
                    $crate::source::key_of!($field $(, $key)?), &[$($field_doc),*], keys, schemas);)*
            }
            fn plain(keys: &$crate::source::Keys<'_>, into: &mut Vec<($crate::source::Key, $crate::source::Node)>) {
                $(<$crate::source::taken_as!($type $(, $default)?) as $crate::source::Field>::plain(
                    keys, $crate::source::key_of!($field $(, $key)?), into);)*
            }
        }
    )*};
}
pub(crate) use record;

/// The type that a field is read as: its own, or what is written of one that is settled.
macro_rules! taken_as {
    ($type:ty) => {
        $type
    };
    ($type:ty, $default:expr) => {
        <$type as $crate::source::Partly>::Written
    };
}
pub(crate) use taken_as;

/// A field that was read, settled where it says by what.
macro_rules! settled {
    ($field:ident, $type:ty, $of:ident) => {
        $field
    };
    ($field:ident, $type:ty, $of:ident, $default:expr) => {
        match $field {
            Some(written) => <$type as $crate::source::SettledBy<_>>::settle(written, $default, $of),
            None => None,
        }
    };
}
pub(crate) use settled;

/// The key of a field: its name with hyphens, unless it has another.
macro_rules! key_of {
    ($field:ident) => {{
        const NAME: &str = stringify!($field);
        const KEY: [u8; NAME.len()] = $crate::source::hyphened(NAME);
        const {
            match std::str::from_utf8(&KEY) {
                Ok(key) => key,
                Err(_) => NAME,
            }
        }
    }};
    ($field:ident, $key:literal) => {
        $key
    };
}
pub(crate) use key_of;

/// `name` with a hyphen for each underscore.
#[must_use]
#[expect(
    clippy::indexing_slicing,
    reason = "a constant expression has no other way, and `at` ends before the array does"
)]
pub const fn hyphened<const LENGTH: usize>(name: &str) -> [u8; LENGTH] {
    let mut key = [0; LENGTH];
    let mut at = 0;
    while at < LENGTH {
        key[at] = if name.as_bytes()[at] == b'_' { b'-' } else { name.as_bytes()[at] };
        at += 1;
    }
    key
}
