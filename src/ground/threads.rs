//! The same work on each of many things, on all threads. What is done side by side passes through one piece of code that knows neither the
//! things nor the work: rayon's own for each kind of them would be a tenth of the program.

use rayon::iter::{IndexedParallelIterator, IntoParallelIterator, ParallelIterator};
use std::mem;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::{Builder, scope};

/// What is made of each, in their order, so many of them one after the other on one thread. Must not be called while a lock is held that
/// `make` asks for.
pub fn on_all_threads<T: Send, R: Send>(
    list: impl IntoIterator<Item = T>,
    together: usize,
    make: impl Fn(T) -> R + Sync,
) -> Vec<R> {
    let shares = Shares::of(list, together);
    side_by_side(shares.0.len(), &|number| _ = shares.make(number, &make));
    shares.made()
}

/// The same, of one at a time, here and on a thread of its own, which takes up no other work meanwhile. So it may be called by who holds
/// what others wait for.
pub fn on_two_threads<T: Send, R: Send>(list: impl IntoIterator<Item = T>, make: impl Fn(T) -> R + Sync) -> Vec<R> {
    let (shares, next) = (Shares::of(list, 1), AtomicUsize::new(0));
    let work = || while shares.make(next.fetch_add(1, Ordering::Relaxed), &make) {};
    scope(|scope| {
        // Where the system gives no more threads, all is done here.
        let other = Builder::new().spawn_scoped(scope, work);
        work();
        if let Some(bug) = other.ok().and_then(|other| other.join().err()) {
            resume_unwind(bug);
        }
    });
    shares.made()
}

/// A list in parts, each of which is made on one thread.
struct Shares<T, R>(Vec<Mutex<Share<T, R>>>);

/// What one thread does at a time.
struct Share<T, R> {
    given: Vec<T>,
    made: Vec<R>,
}

impl<T, R> Shares<T, R> {
    fn of(list: impl IntoIterator<Item = T>, together: usize) -> Self {
        let mut list = list.into_iter();
        let mut shares = Vec::new();
        loop {
            let given: Vec<T> = list.by_ref().take(together.max(1)).collect();
            if given.is_empty() {
                return Self(shares);
            }
            shares.push(Mutex::new(Share { given, made: Vec::new() }));
        }
    }

    /// Makes what is to be made of the share of a number. Whether there is such a one.
    fn make(&self, number: usize, make: &impl Fn(T) -> R) -> bool {
        let Some(share) = self.0.get(number) else { return false };
        // Locked to take from it and to put into it, never while something is made.
        let given = mem::take(&mut locked(share).given);
        let made = given.into_iter().map(make).collect();
        locked(share).made = made;
        true
    }

    fn made(self) -> Vec<R> {
        let made = |share: Mutex<Share<T, R>>| share.into_inner().unwrap_or_else(PoisonError::into_inner).made;
        self.0.into_iter().flat_map(made).collect()
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn side_by_side(count: usize, work: &(dyn Fn(usize) + Sync)) {
    (0..count).into_par_iter().with_max_len(1).for_each(work);
}

/// What was made of each of some things, by their numbers, from any thread and in any order.
pub struct Numbered<R>(Mutex<Vec<Option<R>>>);

impl<R> Default for Numbered<R> {
    fn default() -> Self {
        Self(Mutex::default())
    }
}

impl<R> Numbered<R> {
    /// Keeps what was made of the thing of a number, which is small: there are thousands.
    pub fn keep(&self, number: usize, made: R) {
        let mut all = locked(&self.0);
        if all.len() <= number {
            all.resize_with(number + 1, || None);
        }
        if let Some(place) = all.get_mut(number) {
            *place = Some(made);
        }
    }

    /// All of them, in the order of their numbers.
    pub fn in_order(self) -> Vec<R> {
        self.0.into_inner().unwrap_or_else(PoisonError::into_inner).into_iter().flatten().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{Numbered, on_all_threads, on_two_threads};

    #[test]
    fn results_come_in_the_order_of_their_things() {
        for together in [0, 1, 3, 1000] {
            let made = on_all_threads(0..500_u32, together, |one| on_all_threads([one], 1, |one| one * 3));
            assert_eq!(made.concat(), (0..500).map(|one| one * 3).collect::<Vec<_>>(), "{together}");
        }
        assert_eq!(on_all_threads(Vec::<u8>::new(), 1, |_| 1), Vec::<i32>::new());
    }

    #[test]
    fn two_threads_share_a_list_in_its_order() {
        for count in [0, 1, 2, 7] {
            let made = on_two_threads(0..count, |one: u32| one * 3);
            assert_eq!(made, (0..count).map(|one| one * 3).collect::<Vec<_>>());
        }
        let bug = std::panic::catch_unwind(|| on_two_threads([1, 2], |one| assert_eq!(one, 1)));
        assert!(bug.is_err(), "a bug on either thread is one here");
    }

    #[test]
    fn what_is_numbered_is_told_in_order_and_gaps_are_passed_over() {
        let kept = Numbered::default();
        [4_usize, 0, 9, 2].into_iter().for_each(|number| kept.keep(number, number * 10));
        kept.keep(2, 21);
        assert_eq!(kept.in_order(), [0, 21, 40, 90]);
    }
}
