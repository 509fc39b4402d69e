//! What is composed and set together, and what alone: the turns of a round.

use crate::compose::Task;
use crate::ground::Id;
use std::collections::BTreeMap;

/// Files that are composed before the first of them is set. What they have in common with others is made once; what is a copy's own
/// goes with it, so that memory does not grow with the copies. It changes nothing that is printed: what two of these say alike is deflated
/// once, and harder.
const AT_ONCE: usize = 96;

/// What is composed and set before anything else is.
pub(crate) enum Turn {
    /// Files side by side.
    Files(Vec<Task>),
    /// A file that takes all threads by itself.
    Stack(Box<Task>),
}

impl Turn {
    /// Its tasks.
    pub fn tasks(&self) -> impl Iterator<Item = &Task> {
        match self {
            Self::Files(tasks) => tasks.as_slice(),
            Self::Stack(task) => std::slice::from_ref(&**task),
        }
        .iter()
    }
}

/// The turns of some tasks, in their order; what grows by its copies is alone.
pub(crate) fn turns(tasks: Vec<Task>, grows: impl Fn(&Task) -> bool) -> Vec<Turn> {
    let mut turns: Vec<Turn> = Vec::new();
    for task in tasks {
        let is_alone = grows(&task);
        match turns.last_mut() {
            Some(Turn::Files(tasks)) if !is_alone && tasks.len() < AT_ONCE => tasks.push(task),
            _ if is_alone => turns.push(Turn::Stack(Box::new(task))),
            _ => turns.push(Turn::Files(vec![task])),
        }
    }
    turns
}

/// The turn with which each order ends: what its files have in common goes with the last of them.
pub(crate) fn last_turns(turns: &[Turn]) -> BTreeMap<Id, usize> {
    let mut last = BTreeMap::new();
    for (number, turn) in turns.iter().enumerate() {
        turn.tasks().for_each(|task| _ = last.insert(task.document.clone(), number));
    }
    last
}
