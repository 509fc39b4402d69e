//! All records of one kind, by id.

use super::reference::{Record, Ref};
use crate::ground::{Id, Subject};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// All records of one kind, sorted by id. A clone shares them.
#[derive(Clone)]
pub struct Register<T> {
    records: Arc<BTreeMap<Id, T>>,
    /// Ids of records that were written but refused: known, so that a reference to them is no second finding.
    refused: BTreeSet<Id>,
    /// How many stand above the readers for whom this register was made.
    withheld: usize,
}

impl<T> Default for Register<T> {
    fn default() -> Self {
        Self { records: Arc::default(), refused: BTreeSet::new(), withheld: 0 }
    }
}

impl<T: Record + Clone> Register<T> {
    /// Adds a record; gives it back when its id is taken.
    pub(super) fn add(&mut self, record: T) -> Result<(), T> {
        let id = record.id().value.clone();
        if self.records.contains_key(&id) {
            return Err(record);
        }
        Arc::make_mut(&mut self.records).insert(id, record);
        Ok(())
    }

    /// Adds a record, or takes the place of the one that has its id.
    pub fn put(&mut self, record: T) {
        self.refused.remove(&record.id().value);
        Arc::make_mut(&mut self.records).insert(record.id().value.clone(), record);
    }

    /// Changes those of which `is_meant` says so.
    pub(super) fn change(&mut self, is_meant: impl Fn(&T) -> bool, mut how: impl FnMut(&mut T)) {
        if self.records.values().any(&is_meant) {
            Arc::make_mut(&mut self.records).values_mut().filter(|record| is_meant(record)).for_each(&mut how);
        }
    }

    /// Takes a record out; its id stays known.
    pub fn withdraw(&mut self, id: &Id) {
        self.refused.extend(Arc::make_mut(&mut self.records).remove_entry(id).map(|(id, _)| id));
    }

    /// Remembers the id of a refused record.
    pub(super) fn refuse(&mut self, id: Id) {
        self.refused.insert(id);
    }

    /// All records and the ids of those refused, for deriving others from them.
    pub(super) fn into_parts(self) -> (impl Iterator<Item = T>, BTreeSet<Id>) {
        (Arc::unwrap_or_clone(self.records).into_values(), self.refused)
    }

    /// The same for readers of whom only some records are: the others are counted.
    pub(super) fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        if self.records.values().all(&is_open) {
            return self.clone();
        }
        let open = self.records.iter().filter(|(_, record)| is_open(record));
        let records: BTreeMap<Id, T> = open.map(|(id, record)| (id.clone(), record.clone())).collect();
        let withheld = self.records.len() - records.len();
        Self { records: Arc::new(records), refused: self.refused.clone(), withheld }
    }

    /// How many stand above the readers for whom this register was made.
    #[must_use]
    pub const fn withheld(&self) -> usize {
        self.withheld
    }

    /// The record that is referred to. None when there is none, or it was refused.
    #[must_use]
    pub fn get(&self, id: &Ref<T>) -> Option<&T> {
        self.records.get(&**id)
    }

    /// The record of an id that is known to be of this kind: a holder's, or one that was typed. None when there is none, or it was
    /// refused.
    #[must_use]
    pub fn named(&self, id: &Id) -> Option<&T> {
        self.records.get(id)
    }

    /// Whether a record of this id was written, refused or not.
    #[must_use]
    pub fn knows(&self, id: &Id) -> bool {
        self.records.contains_key(id) || self.refused.contains(id)
    }

    /// Whether every record that was written is here.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.refused.is_empty()
    }

    /// All records, by id.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &T> + Clone {
        self.records.values()
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        self.records.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.records.is_empty()
    }

    /// All ids.
    pub fn ids(&self) -> impl Iterator<Item = &Id> {
        self.records.keys()
    }
}

/// A record as findings name it.
pub fn subject<T: Record>(record: &T) -> Subject {
    Subject::new(T::KIND, record.id())
}
