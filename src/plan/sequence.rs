//! All records of a kind that have no ids, in the order of the files.

use std::ops::Deref;
use std::sync::Arc;

/// Records without ids, in the order of the files. A clone shares them: a plan is held once, however many readers it is for.
#[derive(Clone, Debug)]
pub struct Sequence<T> {
    records: Arc<Vec<T>>,
}

impl<T> Default for Sequence<T> {
    fn default() -> Self {
        Self { records: Arc::default() }
    }
}

impl<T: Clone> Sequence<T> {
    /// Adds a record.
    pub fn push(&mut self, record: T) {
        Arc::make_mut(&mut self.records).push(record);
    }

    /// All of them, to be changed; those for whom they were cloned keep what they have.
    pub fn to_change(&mut self) -> &mut [T] {
        Arc::make_mut(&mut self.records).as_mut_slice()
    }

    /// The same for readers of whom only some records are.
    pub(super) fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        if self.records.iter().all(&is_open) {
            return self.clone();
        }
        Self { records: Arc::new(self.records.iter().filter(|record| is_open(record)).cloned().collect()) }
    }
}

impl<T> Deref for Sequence<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.records
    }
}

impl<'a, T> IntoIterator for &'a Sequence<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.records.iter()
    }
}
