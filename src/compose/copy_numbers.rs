//! The numbers of copies: a holder keeps the one that was given before, and no number is given to two.

use super::task::Task;
use std::collections::{BTreeMap, BTreeSet};

/// The numbers of the copies of a document, by holder.
pub type HolderNumbers = BTreeMap<String, usize>;

/// The numbers of copies that were given in editions before: by document, then by holder.
pub type CopyNumbers = BTreeMap<String, HolderNumbers>;

/// The number of each holder's copy: that which was given before, else the next one that nobody ever had, in the order of their ids.
#[must_use]
pub fn copy_numbers(holders: &BTreeSet<String>, given: Option<&HolderNumbers>) -> HolderNumbers {
    let mut last = given.and_then(|given| given.values().max().copied()).unwrap_or_default();
    let number = |holder: &String| {
        let number = given.and_then(|given| given.get(holder).copied()).unwrap_or_else(|| {
            last += 1;
            last
        });
        (holder.clone(), number)
    };
    holders.iter().map(number).collect()
}

/// Numbers the copies of tasks by what was given before.
pub fn number_copies(tasks: &mut [Task], given: &CopyNumbers) {
    let mut holders: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for task in tasks.iter() {
        let own = holders.entry(task.document.to_string()).or_default();
        own.extend(task.holder.iter().chain(task.together.iter().map(|(_, id)| id)).map(ToString::to_string));
    }
    let numbers: CopyNumbers = holders
        .into_iter()
        .map(|(document, holders)| {
            let numbers = copy_numbers(&holders, given.get(&document));
            (document, numbers)
        })
        .collect();
    for task in tasks {
        let Some(of) = numbers.get(task.document.as_str()) else { continue };
        if let Some(number) = task.holder.as_ref().and_then(|holder| of.get(holder.as_str())) {
            task.copy = Some(*number);
        }
        for (number, holder) in &mut task.together {
            *number = of.get(holder.as_str()).copied().unwrap_or(*number);
        }
    }
}
