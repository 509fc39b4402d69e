//! Repeaters that hear on one frequency within each other's reach: one carrier there, whatever its tone, keeps all of them busy.

use super::{can_meet, heard};
use crate::ground::{Frequency, Id};
use crate::plan::{Plan, Repeater};
use std::collections::BTreeMap;

/// Most repeaters on one input that are held against each other; of more, nothing is said.
const MOST: usize = 256;

/// Which repeaters share their input.
pub struct SharedInputs<'a>(BTreeMap<&'a Id, &'a Id>);

impl<'a> SharedInputs<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        let mut on: BTreeMap<Frequency, Vec<&Repeater>> = BTreeMap::new();
        for repeater in plan.repeaters.iter() {
            if let Some(input) = *repeater.input {
                on.entry(input.value).or_default().push(repeater);
            }
        }
        let mut first = BTreeMap::new();
        for group in on.into_values().filter(|group| (2..=MOST).contains(&group.len())) {
            for linked in parted(plan, group) {
                let named = linked.iter().map(|repeater| &repeater.id.value).min();
                if let Some(named) = named.filter(|_| linked.len() > 1) {
                    first.extend(linked.iter().map(|repeater| (&repeater.id.value, named)));
                }
            }
        }
        Self(first)
    }

    /// The repeater by which the shared input of a repeater is named: the first of its group, by id. None where it has its own.
    #[must_use]
    pub fn of_repeater(&self, repeater: &Id) -> Option<&'a Id> {
        self.0.get(repeater).copied()
    }
}

/// A group parted where the repeaters of one part cannot meet those of another.
fn parted<'a>(plan: &Plan, group: Vec<&'a Repeater>) -> Vec<Vec<&'a Repeater>> {
    let mut parts: Vec<Vec<&Repeater>> = Vec::new();
    for repeater in group {
        let meets = |other: &&Repeater| can_meet(heard(plan, repeater), heard(plan, other));
        let (near, apart): (Vec<_>, Vec<_>) = parts.into_iter().partition(|part| part.iter().any(&meets));
        parts = apart;
        parts.push(near.into_iter().flatten().chain([repeater]).collect());
    }
    parts
}
