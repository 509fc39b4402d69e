//! The paths of a canonical text, written step by step: a text has thousands, and none is kept.

use std::fmt::Write;

/// A word or a place of a path.
pub(super) trait PathStep {
    /// Writes it.
    fn put(&self, into: &mut String);
}

impl PathStep for str {
    fn put(&self, into: &mut String) {
        into.push_str(self);
    }
}

impl PathStep for String {
    fn put(&self, into: &mut String) {
        into.push_str(self);
    }
}

impl PathStep for usize {
    fn put(&self, into: &mut String) {
        // Into a text anything can be written.
        let _ = write!(into, "{self}");
    }
}

impl<T: PathStep + ?Sized> PathStep for &T {
    fn put(&self, into: &mut String) {
        (**self).put(into);
    }
}

/// One step, or up to five with a slash between each two.
pub(super) trait Path {
    /// Writes it.
    fn put(&self, into: &mut String);
}

impl<T: PathStep + ?Sized> Path for &T {
    fn put(&self, into: &mut String) {
        (**self).put(into);
    }
}

macro_rules! paths {
    ($($first:ident $($next:ident)+;)+) => {$(
        impl<$first: PathStep, $($next: PathStep),+> Path for ($first, $($next),+) {
            fn put(&self, into: &mut String) {
                #[expect(non_snake_case, reason = "each step is named by its type")]
                let ($first, $($next),+) = self;
                $first.put(into);
                $(
                    into.push('/');
                    $next.put(into);
                )+
            }
        }
    )+};
}

paths! {
    A B;
    A B C;
    A B C D;
    A B C D E;
}

/// A path as text, for what has many paths below it.
pub(super) fn joined(path: impl Path) -> String {
    let mut text = String::new();
    path.put(&mut text);
    text
}
