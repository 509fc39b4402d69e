//! Records with ids, and references from one to another.

use crate::ground::{At, Id};
use crate::source::{Mention, Node, Reading, Schemas, Written};
use serde_json::json;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::ops::Deref;

/// Something with an id.
pub trait Record {
    /// The kind, as findings write it.
    const KIND: &'static str;
    /// Keys whose text its id is made of where none is written: the first that is there.
    const ID_FROM: &'static [&'static str];
    /// The id.
    fn id(&self) -> &At<Id>;
}

/// The id of a record of one kind. Reads like the id through `Deref`, but is looked up in the register of its kind alone.
///
/// ```
/// use fieldsheaf::plan::{Channel, Plan, Ref};
/// fn is_there(plan: &Plan, id: &Ref<Channel>) -> bool {
///     plan.channels.get(id).is_some()
/// }
/// ```
///
/// ```compile_fail
/// use fieldsheaf::plan::{Channel, Plan, Ref};
/// fn is_there(plan: &Plan, id: &Ref<Channel>) -> bool {
///     plan.posts.get(id).is_some()
/// }
/// ```
pub struct Ref<T> {
    id: Id,
    kind: PhantomData<fn() -> T>,
}

impl<T> Ref<T> {
    /// Refers to the record of this id.
    #[must_use]
    pub const fn to(id: Id) -> Self {
        Self { id, kind: PhantomData }
    }
}

impl<T> Deref for Ref<T> {
    type Target = Id;
    fn deref(&self) -> &Id {
        &self.id
    }
}

/// Remembers what it refers to, so that it is looked up once all records are known.
impl<T: Record> Written for Ref<T> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let id = Id::read(node, of)?;
        of.mentions.push(Mention { kind: T::KIND, id: At::new(id.clone(), node.span) });
        Some(Self::to(id))
    }
    fn schema(schemas: &mut Schemas) -> serde_json::Value {
        let what = format!("the id of a `[[{}]]`", T::KIND);
        schemas.named(&format!("{}-id", T::KIND), |_| json!({ "type": "string", "description": what }))
    }
}

// By hand: a derive would ask the record for the same.
impl<T> Clone for Ref<T> {
    fn clone(&self) -> Self {
        Self::to(self.id.clone())
    }
}

impl<T> PartialEq for Ref<T> {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl<T> Eq for Ref<T> {}

impl<T> PartialEq<Id> for Ref<T> {
    fn eq(&self, other: &Id) -> bool {
        self.id == *other
    }
}

impl<T> PartialEq<Ref<T>> for Id {
    fn eq(&self, other: &Ref<T>) -> bool {
        *self == other.id
    }
}

impl<T> PartialOrd for Ref<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Ref<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.id.cmp(&other.id)
    }
}

impl<T> Hash for Ref<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.id.hash(state);
    }
}

impl<T> fmt::Debug for Ref<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.id.fmt(f)
    }
}

impl<T> fmt::Display for Ref<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.id.fmt(f)
    }
}
