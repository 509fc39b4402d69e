//! A value that is made when somebody first asks for it, and never where nobody does.

use std::fmt;
use std::ops::Deref;
use std::sync::{Arc, LazyLock};

/// A value that may not have been made yet. Copies share it: it is made once.
#[derive(Clone)]
pub struct Later<T>(Arc<LazyLock<T, Box<dyn FnOnce() -> T + Send>>>);

impl<T> Later<T> {
    /// A value made as `make` says.
    #[must_use]
    pub fn made_by(make: impl FnOnce() -> T + Send + 'static) -> Self {
        Self(Arc::new(LazyLock::new(Box::new(make))))
    }
}

impl<T: Send + 'static> From<T> for Later<T> {
    fn from(value: T) -> Self {
        Self::made_by(|| value)
    }
}

impl<T> Deref for Later<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: PartialEq> PartialEq for Later<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || **self == **other
    }
}

impl<T: Eq> Eq for Later<T> {}

impl<T: fmt::Debug> fmt::Debug for Later<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::Later;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn a_value_is_made_once_and_only_where_it_is_wanted() {
        let made = Arc::new(AtomicUsize::new(0));
        let later = |value: usize| {
            let made = Arc::clone(&made);
            Later::made_by(move || value + made.fetch_add(1, Ordering::Relaxed))
        };
        let (wanted, other) = (later(10), later(20));
        assert_eq!((*wanted, *wanted.clone(), made.load(Ordering::Relaxed)), (10, 10, 1));
        assert_eq!(other.clone(), other, "copies are one value");
        assert_eq!(made.load(Ordering::Relaxed), 1, "which nobody has made to know it");
        assert_eq!(other, Later::from(21));
        assert_eq!(format!("{wanted:?}"), "10");
    }
}
