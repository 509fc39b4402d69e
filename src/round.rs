//! A round of work: tasks that are composed and set side by side, turn by turn.

use crate::checks::CheckedPlan;
use crate::compose::{Frozen, SharedKey, Task};
use crate::copies::{Common, Composed, Making, Set, Sheets};
use crate::edition;
use crate::exposed::PrivateNumbers;
use crate::ground::{Bug, Finding, Findings, Id, Numbered, on_all_threads};
use crate::paint::Press;
use crate::stack;
use crate::turns::{Turn, last_turns, turns};
use crate::typeset::{Layout, Pen};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// By what the files of a round are made.
#[derive(Clone, Copy)]
pub struct RoundBy<'a, 'p> {
    pub layouts: &'a BTreeMap<String, Layout>,
    pub press: &'p Press,
    pub pen: &'a Pen,
    pub frozen: Option<&'a Frozen<'a>>,
    pub told: Option<&'a PrivateNumbers>,
    pub sheets: Sheets<'a>,
}

/// What is made of the set of each task; what was found while they were set stands behind what was found before, each once.
pub fn round<'p, R: Send>(
    checked: &CheckedPlan,
    tasks: Vec<Task>,
    by: RoundBy<'_, 'p>,
    all_found: &mut Findings,
    on: &(dyn Fn(Set<'p>) -> R + Sync),
) -> Result<Vec<R>, Bug> {
    let made = Numbered::default();
    turned(checked, tasks, by, all_found, &|number, set| made.keep(number, on(set)))?;
    Ok(made.in_order())
}

/// Composes and sets tasks side by side, and numbers them. It knows nothing of what is made
/// of them: it would be in the program once for each kind.
fn turned<'p>(
    checked: &CheckedPlan,
    tasks: Vec<Task>,
    by: RoundBy<'_, 'p>,
    all_found: &mut Findings,
    on: &(dyn Fn(usize, Set<'p>) + Sync),
) -> Result<(), Bug> {
    let RoundBy { layouts, press, pen, frozen, told, sheets } = by;
    // What is nobody's own is composed once, as a copy.
    let own: BTreeSet<&SharedKey> = tasks.iter().filter(|task| task.has_own_copies()).map(Task::shared_key).collect();
    let codes = edition::codes(checked, tasks.iter().filter(|task| own.contains(task.shared_key())), frozen)?;
    let making = Making { checked, frozen, codes: &codes, pen, told, sheets };
    let mut orders: BTreeMap<Id, Arc<Common<'p>>> = BTreeMap::new();
    for task in &tasks {
        if let (None, Some(common)) = (orders.get(&task.document), Common::of(task, layouts, press)) {
            orders.insert(task.document.clone(), Arc::new(common));
        }
    }
    let set = |(number, file): (usize, Composed<'p>)| {
        let mut found = Findings::default();
        file.set(&making, &mut found).into_iter().for_each(|set| on(number, set));
        found
    };
    let grows = |task: &Task| orders.get(&task.document).is_some_and(|common| stack::grows(task, common, sheets));
    let turns = turns(tasks, grows);
    let last = last_turns(&turns);
    // Sixty personal cards have the same fault once.
    let said = |finding: &Finding| (finding.rule.name, finding.span, finding.message.clone());
    let mut known: BTreeSet<_> = all_found.iter().map(said).collect();
    let mut first = 0;
    for (number, turn) in turns.into_iter().enumerate() {
        let common = |task: &Task| orders.get(&task.document).map(Arc::clone);
        let results: Vec<Findings> = match turn {
            Turn::Stack(task) => {
                let Some(common) = common(&task) else { continue };
                let mut found = Findings::default();
                stack::grown(*task, common, &making, &mut found)?.into_iter().for_each(|set| on(first, set));
                // What a stack has in common goes with it, unless files of its order come later.
                orders.retain(|document, _| last.get(document).is_some_and(|last| *last > number));
                vec![found]
            }
            Turn::Files(tasks) => {
                let compose = |task: Task| {
                    let common = common(&task)?;
                    Some(Composed::of(task, common, &making))
                };
                let composed = on_all_threads(tasks, 1, compose).into_iter().flatten();
                let composed = composed.collect::<Result<Vec<Composed<'p>>, Bug>>()?;
                orders.retain(|document, _| last.get(document).is_some_and(|last| *last > number));
                let results = longest_first((first..).zip(composed).collect(), set);
                orders.values().for_each(|common| common.forget_own());
                results
            }
        };
        first += results.len();
        for found in results {
            for finding in found.iter().filter(|finding| known.insert(said(finding))) {
                all_found.push(finding.clone());
            }
        }
    }
    Ok(())
}

/// What was found while each was set, in their order; the longest work is begun first, so that no thread waits for one that began it last.
fn longest_first<'p>(
    mut numbered: Vec<(usize, Composed<'p>)>,
    set: impl Fn((usize, Composed<'p>)) -> Findings + Sync,
) -> Vec<Findings> {
    numbered.sort_by_key(|(_, file)| Reverse(file.length));
    let mut found = on_all_threads(numbered, 1, |file| (file.0, set(file)));
    found.sort_by_key(|(number, _)| *number);
    found.into_iter().map(|(_, found)| found).collect()
}
