//! All records of one kind, by id.

use super::reference::{Record, Ref};
use crate::ground::{Id, Subject};
use std::collections::btree_map::Values;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// All records of one kind, sorted by id. A clone shares them.
#[derive(Clone)]
pub struct Register<T> {
    records: Arc<Registered<T>>,
    /// Ids of records that were written but refused: known, so that a reference to them is no second finding.
    refused: BTreeSet<Id>,
    /// How many stand above the readers for whom this register was made.
    withheld: usize,
}

/// Records in the order in which they came, and the place of each by its id: a map with the records in it would be in the program once
/// for each kind.
#[derive(Clone)]
struct Registered<T> {
    list: Vec<T>,
    places: BTreeMap<Id, usize>,
}

/// Records by id.
#[derive(Clone)]
struct ById<'a, T> {
    list: &'a [T],
    places: Values<'a, Id, usize>,
}

impl<T> Default for Registered<T> {
    fn default() -> Self {
        Self { list: Vec::new(), places: BTreeMap::new() }
    }
}

impl<T> Registered<T> {
    fn get(&self, id: &Id) -> Option<&T> {
        self.list.get(*self.places.get(id)?)
    }

    fn by_id(&self) -> ById<'_, T> {
        ById { list: &self.list, places: self.places.values() }
    }
}

impl<T: Record> Registered<T> {
    /// Adds a record, or takes the place of the one that has its id.
    fn put(&mut self, record: T) {
        match self.places.get(&record.id().value).and_then(|at| self.list.get_mut(*at)) {
            Some(known) => *known = record,
            None => {
                self.places.insert(record.id().value.clone(), self.list.len());
                self.list.push(record);
            }
        }
    }

    /// Takes a record out; the last one comes into its place.
    fn remove(&mut self, id: &Id) -> Option<Id> {
        let (id, at) = self.places.remove_entry(id)?;
        self.list.swap_remove(at);
        let moved = self.list.get(at).and_then(|moved| self.places.get_mut(&moved.id().value));
        moved.into_iter().for_each(|place| *place = at);
        Some(id)
    }
}

impl<T: Record> FromIterator<T> for Registered<T> {
    fn from_iter<I: IntoIterator<Item = T>>(records: I) -> Self {
        let mut all = Self::default();
        records.into_iter().for_each(|record| all.put(record));
        all
    }
}

impl<'a, T> Iterator for ById<'a, T> {
    type Item = &'a T;

    fn next(&mut self) -> Option<&'a T> {
        self.list.get(*self.places.next()?)
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.places.size_hint()
    }
}

impl<T> ExactSizeIterator for ById<'_, T> {}

impl<T> Default for Register<T> {
    fn default() -> Self {
        Self { records: Arc::default(), refused: BTreeSet::new(), withheld: 0 }
    }
}

impl<T: Record + Clone> Register<T> {
    /// Adds a record; gives it back when its id is taken.
    pub(super) fn add(&mut self, record: T) -> Result<(), T> {
        if self.records.places.contains_key(&record.id().value) {
            return Err(record);
        }
        Arc::make_mut(&mut self.records).put(record);
        Ok(())
    }

    /// Adds a record, or takes the place of the one that has its id.
    pub fn put(&mut self, record: T) {
        self.refused.remove(&record.id().value);
        Arc::make_mut(&mut self.records).put(record);
    }

    /// Changes those of which `is_meant` says so.
    pub(super) fn change(&mut self, is_meant: impl Fn(&T) -> bool, mut how: impl FnMut(&mut T)) {
        if self.records.list.iter().any(&is_meant) {
            Arc::make_mut(&mut self.records).list.iter_mut().filter(|record| is_meant(record)).for_each(&mut how);
        }
    }

    /// Takes a record out; its id stays known.
    pub fn withdraw(&mut self, id: &Id) {
        self.refused.extend(Arc::make_mut(&mut self.records).remove(id));
    }

    /// Remembers the id of a refused record.
    pub(super) fn refuse(&mut self, id: Id) {
        self.refused.insert(id);
    }

    /// All records and the ids of those refused, for deriving others from them.
    pub(super) fn into_parts(self) -> (impl Iterator<Item = T>, BTreeSet<Id>) {
        let Registered { list, places } = Arc::unwrap_or_clone(self.records);
        let mut list: Vec<Option<T>> = list.into_iter().map(Some).collect();
        (places.into_values().filter_map(move |at| list.get_mut(at)?.take()), self.refused)
    }

    /// The same for readers of whom only some records are: the others are counted.
    pub(super) fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        if self.records.list.iter().all(&is_open) {
            return self.clone();
        }
        let records: Registered<T> = self.records.by_id().filter(|record| is_open(record)).cloned().collect();
        let withheld = self.records.list.len() - records.list.len();
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
        self.records.get(id)
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
        self.records.places.contains_key(id) || self.refused.contains(id)
    }

    /// Whether every record that was written is here.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.refused.is_empty()
    }

    /// All records, by id.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &T> + Clone {
        self.records.by_id()
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        self.records.list.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.records.list.is_empty()
    }

    /// All ids.
    pub fn ids(&self) -> impl Iterator<Item = &Id> {
        self.records.places.keys()
    }
}

/// A record as findings name it.
pub fn subject<T: Record>(record: &T) -> Subject {
    Subject::new(T::KIND, record.id())
}
