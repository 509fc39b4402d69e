//! How far a long build is: one line on the terminal, written over itself, gone at its end.

use super::calls::{Calls, Machine};
use super::say;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// A county is built before anybody would read a line.
const BEFORE: Duration = Duration::from_secs(1);
/// Time between two lines.
const BETWEEN: Duration = Duration::from_millis(200);

/// How far a build is. Nothing is shown where a line cannot be written over.
pub struct Progress(Option<Mutex<ProgressLine>>);

impl Progress {
    /// Begins now.
    pub fn new() -> Self {
        Self(say::has_moving_lines().then(|| Mutex::new(ProgressLine::new(Machine.now()))))
    }

    /// Says how many documents of how many are done.
    pub fn show(&self, done: usize, all: usize) {
        if let Some(words) = self.line().and_then(|mut line| line.at(Machine.now(), done, all)) {
            say::over(&words);
        }
    }

    /// Takes the line away.
    pub fn end(&self) {
        if let Some(line) = self.line().filter(|line| line.wide > 0) {
            say::over(&" ".repeat(line.wide));
        }
    }

    fn line(&self) -> Option<MutexGuard<'_, ProgressLine>> {
        Some(self.0.as_ref()?.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// The line as it stands.
struct ProgressLine {
    /// Before this, the next one is not shown.
    next: Duration,
    /// Characters of the widest one that was shown.
    wide: usize,
}

impl ProgressLine {
    fn new(now: Duration) -> Self {
        Self { next: now + BEFORE, wide: 0 }
    }

    /// The words to show now, when it is time for any.
    fn at(&mut self, now: Duration, done: usize, all: usize) -> Option<String> {
        if now < self.next {
            return None;
        }
        let words = format!("{done} of {all} documents");
        *self = Self { next: now + BETWEEN, wide: self.wide.max(words.len()) };
        Some(words)
    }
}

#[cfg(test)]
mod tests {
    use super::ProgressLine;
    use std::time::Duration;

    #[test]
    fn nothing_is_said_in_the_first_second_and_then_five_times_a_second_at_most() {
        let at = Duration::from_millis;
        let mut line = ProgressLine::new(at(5000));
        assert_eq!(line.at(at(5999), 10, 2000), None);
        assert_eq!(line.at(at(6000), 11, 2000).as_deref(), Some("11 of 2000 documents"));
        assert_eq!(line.at(at(6199), 12, 2000), None);
        assert_eq!(line.at(at(6200), 1000, 2000).as_deref(), Some("1000 of 2000 documents"));
        assert_eq!(line.wide, 22);
    }
}
