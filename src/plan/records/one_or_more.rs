//! What may be written as one value or as a list of several, of which the first counts unless another is picked.

use crate::ground::{At, Refusal};
use crate::source::{Node, Reading, Schemas, Value, Written};
use serde_json::json;

/// One value, or several in their order. Reads like the first of them through `Deref`.
#[derive(Clone, Debug)]
pub struct OneOrMore<T> {
    first: At<T>,
    others: Vec<At<T>>,
}

impl<T> std::ops::Deref for OneOrMore<T> {
    type Target = At<T>;
    fn deref(&self) -> &At<T> {
        &self.first
    }
}

impl<T> OneOrMore<T> {
    /// One alone.
    pub(super) const fn one(value: At<T>) -> Self {
        Self { first: value, others: Vec::new() }
    }
}

impl<T: Copy> OneOrMore<T> {
    /// All of them, the first first.
    pub fn all(&self) -> impl Iterator<Item = At<T>> + '_ {
        std::iter::once(self.first).chain(self.others.iter().copied())
    }
}

impl<T: Copy + std::fmt::Display> OneOrMore<T> {
    /// In a message: `103.5 Hz or 141.3 Hz`.
    #[must_use]
    pub fn words(&self) -> String {
        self.all().map(|one| one.value.to_string()).collect::<Vec<_>>().join(" or ")
    }
}

/// A cell has several between semicolons.
impl<T: Written> Written for OneOrMore<T> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let is_several = |text: &str| text.contains(';');
        let is_list = matches!(node.value, Value::List(_));
        if !is_list && !node.text().is_some_and(is_several) {
            return Some(Self::one(At::new(T::read(node, of)?, node.span)));
        }
        let all = <Vec<At<T>>>::read(node, of)?;
        let wanted = if let Value::List(items) = &node.value { items.len() } else { all.len() };
        if wanted == 0 {
            of.refuse(node.span, Refusal::new("nothing stands in the list").help("write one value at least"));
            return None;
        }
        let is_whole = all.len() == wanted;
        let mut all = all.into_iter();
        let first = all.next()?;
        is_whole.then(|| Self { first, others: all.collect() })
    }
    fn schema(schemas: &mut Schemas) -> serde_json::Value {
        let (one, many) = (T::schema(schemas), <Vec<At<T>>>::schema(schemas));
        json!({ "anyOf": [one, many] })
    }
}
