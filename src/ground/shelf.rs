//! Things that are made once, by whoever needs them first, and passed along from then on.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Things by what they are made from. A shelf forgets nothing: it lives as long as the work that shares it, and what only one
/// has a use for is not put there.
#[derive(Debug)]
pub struct Shelf<K, T>(Mutex<BTreeMap<K, Arc<OnceLock<T>>>>);

impl<K, T> Default for Shelf<K, T> {
    fn default() -> Self {
        Self(Mutex::new(BTreeMap::new()))
    }
}

impl<K: Ord, T: Clone> Shelf<K, T> {
    /// The thing of a key, made now where nobody has made it yet. Whoever wants the same meanwhile waits for it, and nobody else
    /// does: `make` must not ask for its own key.
    pub fn get(&self, key: K, make: impl FnOnce() -> T) -> T {
        let place = {
            let mut things = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            Arc::clone(things.entry(key).or_default())
        };
        place.get_or_init(make).clone()
    }

    /// The same, kept for others only as long as there are fewer than so many things: of what differs from file to file.
    pub fn get_of(&self, most: usize, key: K, make: impl FnOnce() -> T) -> T {
        let is_kept = {
            let things = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            things.len() < most || things.contains_key(&key)
        };
        if is_kept { self.get(key, make) } else { make() }
    }
}

#[cfg(test)]
mod tests {
    use super::Shelf;
    use std::sync::atomic::{AtomicUsize, Ordering};

    /// Also where many ask at once.
    #[test]
    fn a_thing_is_made_once() {
        let (shelf, made) = (Shelf::default(), AtomicUsize::new(0));
        let ask = |key: usize| {
            shelf.get(key, || {
                made.fetch_add(1, Ordering::Relaxed);
                key * 10
            })
        };
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| (0..100).for_each(|n| assert_eq!(ask(n % 7), n % 7 * 10)));
            }
        });
        assert_eq!(made.into_inner(), 7);
    }
}
