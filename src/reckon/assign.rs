//! Values for variables so that no two conflict and the cost is small: exact where that is small work, else a bounded search.
//!
//! First a depth-first search that always takes the variable with the fewest values left and its cheapest value, and looks ahead
//! (Haralick and Elliott 1980). Small problems are searched to the end, so that the answer is the best; large ones are made
//! better one variable at a time until nothing helps. The same problem has the same answer on every run.

use std::collections::{BTreeMap, BTreeSet};

/// How many steps a search may take before it counts as large.
const STEPS: usize = 20_000;
/// How many steps it counts to ask for the cost of a whole answer.
const WHOLE: usize = 200;

/// What is to be assigned.
pub struct Problem<'a> {
    /// For each variable the cost of each of its values; none for a value that may not be taken.
    pub domains: Vec<Vec<Option<u64>>>,
    /// Whether two variables cannot have two values: `(variable, value)` twice.
    pub conflicts: &'a dyn Fn((usize, usize), (usize, usize)) -> bool,
    /// What two values cost beside each other: `(variable, value)` twice.
    pub pair_cost: &'a dyn Fn((usize, usize), (usize, usize)) -> u64,
    /// The other variables with which one may conflict or cost, in order: none but these are asked for.
    pub near: &'a dyn Fn(usize) -> Vec<usize>,
    /// Variables whose values together have a cost of their own.
    pub groups: Vec<Vec<usize>>,
    /// The cost of a group when every variable has a value.
    pub group_cost: &'a dyn Fn(usize, &[usize]) -> u64,
}

/// What was found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Answer {
    /// Values without conflict.
    Found {
        /// One for each variable.
        values: Vec<usize>,
        /// The whole cost.
        cost: u64,
        /// Whether nothing can be cheaper.
        is_best: bool,
    },
    /// There is none, or none was found.
    Nothing {
        /// The variable that was left without a value when the search was deepest.
        stuck: usize,
        /// Those that had taken values in its way then.
        by: Vec<usize>,
        /// Whether the whole space was searched: then there is none.
        is_proved: bool,
    },
}

/// Solves a problem.
#[must_use]
pub fn assign(problem: &Problem<'_>) -> Answer {
    let mut search = Search::new(problem, None);
    let is_whole = search.run(false);
    let Some(first) = search.best.take() else {
        let (_, stuck, by) = search.deepest.unwrap_or((0, 0, Vec::new()));
        return Answer::Nothing { stuck, by, is_proved: is_whole };
    };
    // To the end, with what is known as the bound; given up where that is too much.
    let mut exact = Search::new(problem, Some(first));
    let is_best = exact.run(true);
    let (values, cost) = exact.best.unwrap_or_default();
    let (values, cost) = if is_best { (values, cost) } else { bettered(problem, values, cost) };
    let least: u64 = problem.domains.iter().map(|domain| domain.iter().flatten().min().copied().unwrap_or(0)).sum();
    Answer::Found { values, cost, is_best: is_best || cost == least }
}

fn own_cost(problem: &Problem<'_>, variable: usize, value: usize) -> u64 {
    problem.domains.get(variable).and_then(|domain| *domain.get(value)?).unwrap_or(0)
}

/// What a variable's value costs beside those of others that have one.
fn cost_beside(problem: &Problem<'_>, value_of: impl Fn(usize) -> Option<usize>, at: (usize, usize)) -> u64 {
    let others = (problem.near)(at.0).into_iter().filter_map(|other| Some((other, value_of(other)?)));
    others.map(|other| (problem.pair_cost)(at, other)).sum()
}

fn whole_cost(problem: &Problem<'_>, values: &[usize]) -> u64 {
    let own: u64 = values.iter().enumerate().map(|(variable, value)| own_cost(problem, variable, *value)).sum();
    let before = |at: usize| move |other: usize| values.get(other).copied().filter(|_| other < at);
    let all = values.iter().copied().enumerate();
    let pairs: u64 = all.map(|at| cost_beside(problem, before(at.0), at)).sum();
    own + pairs + (0..problem.groups.len()).map(|group| (problem.group_cost)(group, values)).sum::<u64>()
}

struct Search<'a> {
    problem: &'a Problem<'a>,
    steps: usize,
    values: Vec<Option<usize>>,
    /// Which values are left to each variable.
    left: Vec<Vec<bool>>,
    /// How many are left to each variable that has none yet.
    open: BTreeSet<(usize, usize)>,
    remaining: Vec<usize>,
    /// What was taken from whom, in order, so that it can be given back.
    taken: Vec<(usize, usize)>,
    /// How deep, which variable was stuck, and by whom.
    deepest: Option<(usize, usize, Vec<usize>)>,
    depth: usize,
    best: Option<(Vec<usize>, u64)>,
}

/// A variable whose values are tried one after the other.
struct Trial {
    variable: usize,
    choices: std::vec::IntoIter<usize>,
    /// The cost of all before it.
    spent: u64,
    /// How much had been taken before its value was.
    mark: usize,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem<'a>, best: Option<(Vec<usize>, u64)>) -> Self {
        let left: Vec<Vec<bool>> =
            problem.domains.iter().map(|domain| domain.iter().map(Option::is_some).collect()).collect();
        let remaining: Vec<usize> = left.iter().map(|values| values.iter().filter(|value| **value).count()).collect();
        let open = remaining.iter().enumerate().map(|(variable, count)| (*count, variable)).collect();
        let (values, taken) = (vec![None; left.len()], Vec::new());
        Self { problem, steps: 0, values, left, open, remaining, taken, deepest: None, depth: 0, best }
    }

    /// Searches all; true when all was. Without `to_end` the first answer ends it. Not by recursion: there may be as many
    /// variables as a plan has records.
    fn run(&mut self, to_end: bool) -> bool {
        let mut trials: Vec<Trial> = self.descend(0, to_end).into_iter().collect();
        while let Some(trial) = trials.last_mut() {
            self.give_back(trial);
            if self.steps > STEPS || (!to_end && self.best.is_some()) {
                break;
            }
            let Some(value) = trial.choices.next() else {
                trials.pop();
                continue;
            };
            let at = (trial.variable, value);
            let beside = cost_beside(self.problem, |other| self.values.get(other).copied().flatten(), at);
            let spent = trial.spent + own_cost(self.problem, trial.variable, value) + beside;
            self.narrow(at);
            trials.extend(self.descend(spent, to_end));
        }
        self.steps <= STEPS
    }

    /// Goes on from a partial assignment: the variable with the fewest values left is next, its cheapest value first. None where
    /// nothing is below.
    fn descend(&mut self, spent: u64, to_end: bool) -> Option<Trial> {
        self.steps += 1;
        if self.steps > STEPS || self.best.as_ref().is_some_and(|(_, cost)| !to_end || spent >= *cost) {
            return None;
        }
        let Some((remaining, variable)) = self.open.first().copied() else {
            self.steps += WHOLE;
            let values: Vec<usize> = self.values.iter().flatten().copied().collect();
            let cost = whole_cost(self.problem, &values);
            if self.best.as_ref().is_none_or(|(_, best)| cost < *best) {
                self.best = Some((values, cost));
            }
            return None;
        };
        if remaining == 0 {
            self.note_stuck(variable);
            return None;
        }
        let left = self.left.get(variable).into_iter().flatten().enumerate().filter(|(_, is_left)| **is_left);
        let mut choices: Vec<usize> = left.map(|(value, _)| value).collect();
        choices.sort_by_key(|value| (own_cost(self.problem, variable, *value), *value));
        Some(Trial { variable, choices: choices.into_iter(), spent, mark: self.taken.len() })
    }

    /// Gives a variable a value, and takes from the others what conflicts with it.
    fn narrow(&mut self, (variable, value): (usize, usize)) {
        if let Some(slot) = self.values.get_mut(variable) {
            *slot = Some(value);
        }
        self.depth += 1;
        self.open.remove(&(self.remaining.get(variable).copied().unwrap_or(0), variable));
        for other in (self.problem.near)(variable) {
            if self.values.get(other).copied().flatten().is_some() {
                continue;
            }
            let Some(values) = self.left.get_mut(other) else { continue };
            let from = self.taken.len();
            for (theirs, is_left) in values.iter_mut().enumerate().filter(|(_, is_left)| **is_left) {
                if (self.problem.conflicts)((variable, value), (other, theirs)) {
                    *is_left = false;
                    self.taken.push((other, theirs));
                }
            }
            let gone = self.taken.len() - from;
            self.recount(other, |count| count - gone);
        }
    }

    fn recount(&mut self, variable: usize, change: impl Fn(usize) -> usize) {
        let Some(count) = self.remaining.get_mut(variable) else { return };
        let was = std::mem::replace(count, change(*count));
        if self.open.remove(&(was, variable)) {
            self.open.insert((*count, variable));
        }
    }

    /// Takes a trial's value back, if it has one, with all that followed from it.
    fn give_back(&mut self, trial: &Trial) {
        let Some(slot) = self.values.get_mut(trial.variable).filter(|slot| slot.is_some()) else { return };
        *slot = None;
        self.depth -= 1;
        for (variable, value) in self.taken.split_off(trial.mark) {
            if let Some(is_left) = self.left.get_mut(variable).and_then(|values| values.get_mut(value)) {
                *is_left = true;
            }
            self.recount(variable, |count| count + 1);
        }
        self.open.insert((self.remaining.get(trial.variable).copied().unwrap_or(0), trial.variable));
    }

    fn note_stuck(&mut self, stuck: usize) {
        if self.deepest.as_ref().is_some_and(|(known, ..)| *known >= self.depth) {
            return;
        }
        let blocks = |variable: usize, value: usize| {
            let domain = self.problem.domains.get(stuck).map_or(0, Vec::len);
            (0..domain).any(|theirs| (self.problem.conflicts)((variable, value), (stuck, theirs)))
        };
        let near = (self.problem.near)(stuck).into_iter();
        let taken = near.filter_map(|variable| Some((variable, self.values.get(variable).copied().flatten()?)));
        let by = taken.filter(|(variable, value)| blocks(*variable, *value)).map(|(variable, _)| variable).collect();
        self.deepest = Some((self.depth, stuck, by));
    }
}

/// How often all variables are tried anew.
const ROUNDS: usize = 8;

/// One variable at a time to a cheaper value, until none helps.
fn bettered(problem: &Problem<'_>, mut values: Vec<usize>, mut cost: u64) -> (Vec<usize>, u64) {
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (group, variables) in problem.groups.iter().enumerate() {
        variables.iter().for_each(|variable| groups.entry(*variable).or_default().push(group));
    }
    let around = |values: &[usize], variable: usize| {
        let own = values.get(variable).map_or(0, |value| {
            let beside = cost_beside(problem, |other| values.get(other).copied(), (variable, *value));
            own_cost(problem, variable, *value) + beside
        });
        let groups = groups.get(&variable).into_iter().flatten();
        own + groups.map(|group| (problem.group_cost)(*group, values)).sum::<u64>()
    };
    for _ in 0..ROUNDS {
        let before = cost;
        for variable in 0..values.len() {
            let near = (problem.near)(variable);
            let choices = problem.domains.get(variable).map_or(0, Vec::len);
            for value in 0..choices {
                let conflicts = |other: &usize| {
                    values.get(*other).is_some_and(|theirs| (problem.conflicts)((variable, value), (*other, *theirs)))
                };
                let is_open = problem.domains.get(variable).and_then(|domain| *domain.get(value)?).is_some();
                if !is_open || near.iter().any(conflicts) {
                    continue;
                }
                let was = around(&values, variable);
                let Some(kept) = values.get_mut(variable).map(|slot| std::mem::replace(slot, value)) else { continue };
                let is = around(&values, variable);
                if is < was {
                    cost = cost + is - was;
                } else if let Some(slot) = values.get_mut(variable) {
                    *slot = kept;
                }
            }
        }
        if cost == before {
            break;
        }
    }
    (values, cost)
}

#[cfg(test)]
mod tests {
    use super::{Answer, Problem, assign};
    use std::cell::Cell;

    fn differ((_, a): (usize, usize), (_, b): (usize, usize)) -> bool {
        a == b
    }

    /// Pigeons: as many values as variables that must all differ are enough, one less is proved not to be.
    #[test]
    fn pigeons_find_holes_or_the_proof_that_there_are_too_few() {
        let problem = |variables: usize, values: usize| Problem {
            domains: vec![vec![Some(0); values]; variables],
            conflicts: &differ,
            pair_cost: &|_, _| 0,
            near: &|variable| (0..7).filter(|other| *other != variable).collect(),
            groups: Vec::new(),
            group_cost: &|_, _| 0,
        };
        assert!(matches!(assign(&problem(6, 6)), Answer::Found { cost: 0, is_best: true, .. }));
        assert!(matches!(assign(&problem(7, 6)), Answer::Nothing { is_proved: true, by, .. } if by.len() == 6));
    }

    /// Every assignment of a small problem, one by one, is no cheaper than the one found.
    #[test]
    fn a_small_problem_is_solved_at_the_least_cost() {
        let domains =
            vec![vec![Some(3), Some(1), Some(4)], vec![Some(1), Some(5), None], vec![Some(9), Some(2), Some(6)]];
        let group_cost = |_: usize, values: &[usize]| u64::from(values == [1, 0, 2]) * 7;
        let conflicts = |a: (usize, usize), b: (usize, usize)| a.1 == b.1;
        // Values side by side cost more than any of them alone is worth.
        let pair_cost = |a: (usize, usize), b: (usize, usize)| u64::from(a.1.abs_diff(b.1) == 1) * 4;
        let problem = Problem {
            domains: domains.clone(),
            conflicts: &conflicts,
            pair_cost: &pair_cost,
            near: &|variable| (0..3).filter(|other| *other != variable).collect(),
            groups: vec![vec![0, 1, 2]],
            group_cost: &group_cost,
        };
        let Answer::Found { values, cost, is_best } = assign(&problem) else { panic!("there is one") };
        let mut least = u64::MAX;
        for (a, b, c) in (0..27).map(|n| (n / 9, n / 3 % 3, n % 3)) {
            let (Some(x), Some(y), Some(z)) = (domains[0][a], domains[1][b], domains[2][c]) else { continue };
            if a != b && b != c && a != c {
                let pairs = pair_cost((0, a), (1, b)) + pair_cost((0, a), (2, c)) + pair_cost((1, b), (2, c));
                least = least.min(x + y + z + pairs + group_cost(0, &[a, b, c]));
            }
        }
        assert_eq!((cost, is_best), (least, true), "{values:?}");
    }

    /// Five thousand in a row, each of which must differ from those beside it: asked are these alone, not each two of all.
    #[test]
    fn a_long_row_asks_for_neighbours_alone() {
        let asked = Cell::new(0_usize);
        let conflicts = |a, b| {
            asked.set(asked.get() + 1);
            differ(a, b)
        };
        let problem = Problem {
            domains: vec![vec![Some(0); 2]; 5000],
            conflicts: &conflicts,
            pair_cost: &|_, _| 0,
            near: &|one| [one.checked_sub(1), (one < 4999).then_some(one + 1)].into_iter().flatten().collect(),
            groups: Vec::new(),
            group_cost: &|_, _| 0,
        };
        let Answer::Found { values, cost: 0, is_best: true } = assign(&problem) else { panic!("there is one") };
        assert!(values.windows(2).all(|pair| pair[0] != pair[1]));
        assert!(asked.get() <= 4 * 5000, "{}", asked.get());
    }
}
