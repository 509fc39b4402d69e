//! Whole numbers, each in the range that its key takes: what is out of it is refused by that range, not by how it is kept.

use super::node::{Node, Value};
use super::plain::plain_number;
use super::reading::Reading;
use super::schema::Schemas;
use super::written::Written;
use crate::ground::Refusal;
use serde_json::{Value as Json, json};
use std::fmt;

/// A number from `LEAST` to `MOST`, which `T` holds. Where it `IS_NAME`, it tells one thing from others: the nearest number in
/// the range is then not what was meant, and none is proposed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Whole<T, const LEAST: u64, const MOST: u64, const IS_NAME: bool = false>(T);

impl<T: Copy, const LEAST: u64, const MOST: u64, const IS_NAME: bool> Whole<T, LEAST, MOST, IS_NAME> {
    /// The number.
    #[must_use]
    pub const fn get(self) -> T {
        self.0
    }
}

impl<T: fmt::Display, const LEAST: u64, const MOST: u64, const IS_NAME: bool> fmt::Display
    for Whole<T, LEAST, MOST, IS_NAME>
{
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl<T: TryFrom<u64>, const LEAST: u64, const MOST: u64, const IS_NAME: bool> Written
    for Whole<T, LEAST, MOST, IS_NAME>
{
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let number: Option<i64> = match &node.value {
            Value::Integer(number) => Some(*number),
            Value::Field(text) => text.parse().ok(),
            _ => None,
        };
        let wanted = format!("a whole number from {LEAST} to {MOST}");
        let Some(number) = number else {
            node.refuse(&wanted, of);
            return None;
        };
        let taken = u64::try_from(number).ok().filter(|number| (LEAST..=MOST).contains(number));
        if let Some(taken) = taken.and_then(|number| T::try_from(number).ok()) {
            return Some(Self(taken));
        }
        let nearest = u64::try_from(number).unwrap_or(LEAST).clamp(LEAST, MOST);
        let refusal = Refusal::new(format!("{number} stands where {wanted} is wanted"));
        of.refuse(node.span, if IS_NAME { refusal } else { refusal.write_number(nearest) });
        None
    }
    fn schema(_: &mut Schemas) -> Json {
        json!({ "type": "integer", "minimum": LEAST, "maximum": MOST })
    }
    fn plain(node: &Node) -> Node {
        plain_number(node)
    }
}
