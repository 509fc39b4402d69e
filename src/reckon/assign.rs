//! Values for variables so that no two conflict and the cost is small: exact where that is small work, else a bounded search.
//!
//! First a depth-first search that always takes the variable with the fewest values left and its cheapest value, and looks ahead
//! (Haralick and Elliott 1980). Small problems are searched to the end, so that the answer is the best; large ones are made
//! better one variable at a time until nothing helps. The same problem has the same answer on every run.

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
    let count = problem.domains.len();
    let mut search = Search { problem, steps: 0, values: vec![None; count], deepest: None, best: None };
    let left: Vec<Vec<bool>> =
        problem.domains.iter().map(|domain| domain.iter().map(Option::is_some).collect()).collect();
    let is_whole = search.descend(&left, 0, false);
    let Some(first) = search.best.take() else {
        let (_, stuck, by) = search.deepest.unwrap_or((0, 0, Vec::new()));
        return Answer::Nothing { stuck, by, is_proved: is_whole };
    };
    // To the end, with what is known as the bound; given up where that is too much.
    let mut exact = Search { problem, steps: 0, values: vec![None; count], deepest: None, best: Some(first) };
    let is_best = exact.descend(&left, 0, true);
    let (values, cost) = exact.best.unwrap_or_default();
    let (values, cost) = if is_best { (values, cost) } else { bettered(problem, values, cost) };
    let least: u64 = problem.domains.iter().map(|domain| domain.iter().flatten().min().copied().unwrap_or(0)).sum();
    Answer::Found { values, cost, is_best: is_best || cost == least }
}

fn own_cost(problem: &Problem<'_>, variable: usize, value: usize) -> u64 {
    problem.domains.get(variable).and_then(|domain| *domain.get(value)?).unwrap_or(0)
}

/// What a variable's value costs beside others.
fn cost_beside(problem: &Problem<'_>, values: impl Iterator<Item = (usize, usize)>, at: (usize, usize)) -> u64 {
    values.filter(|(variable, _)| *variable != at.0).map(|other| (problem.pair_cost)(at, other)).sum()
}

fn whole_cost(problem: &Problem<'_>, values: &[usize]) -> u64 {
    let own: u64 = values.iter().enumerate().map(|(variable, value)| own_cost(problem, variable, *value)).sum();
    let all = || values.iter().copied().enumerate();
    let pairs: u64 = all().map(|at| cost_beside(problem, all().take(at.0), at)).sum();
    own + pairs + (0..problem.groups.len()).map(|group| (problem.group_cost)(group, values)).sum::<u64>()
}

struct Search<'a> {
    problem: &'a Problem<'a>,
    steps: usize,
    values: Vec<Option<usize>>,
    /// How deep, which variable was stuck, and by whom.
    deepest: Option<(usize, usize, Vec<usize>)>,
    best: Option<(Vec<usize>, u64)>,
}

impl Search<'_> {
    /// Goes on from a partial assignment; true when all below was searched. Without `to_end` the first answer ends it.
    fn descend(&mut self, left: &[Vec<bool>], spent: u64, to_end: bool) -> bool {
        self.steps += 1;
        if self.steps > STEPS {
            return false;
        }
        if self.best.as_ref().is_some_and(|(_, cost)| !to_end || spent >= *cost) {
            return true;
        }
        let open = self.values.iter().enumerate().filter(|(_, value)| value.is_none()).map(|(variable, _)| variable);
        let remaining =
            |variable: &usize| left.get(*variable).map_or(0, |values| values.iter().filter(|v| **v).count());
        let Some(variable) = open.min_by_key(|variable| (remaining(variable), *variable)) else {
            self.steps += WHOLE;
            let values: Vec<usize> = self.values.iter().flatten().copied().collect();
            let cost = whole_cost(self.problem, &values);
            if self.best.as_ref().is_none_or(|(_, best)| cost < *best) {
                self.best = Some((values, cost));
            }
            return true;
        };
        if remaining(&variable) == 0 {
            self.note_stuck(variable);
            return true;
        }
        let mut choices: Vec<usize> = left
            .get(variable)
            .map(|values| values.iter().enumerate().filter(|(_, is_left)| **is_left).map(|(value, _)| value).collect())
            .unwrap_or_default();
        choices.sort_by_key(|value| (own_cost(self.problem, variable, *value), *value));
        let mut is_whole = true;
        for value in choices {
            let taken = self.values.iter().copied().enumerate().filter_map(|(other, theirs)| Some((other, theirs?)));
            let adds = own_cost(self.problem, variable, value) + cost_beside(self.problem, taken, (variable, value));
            let next = self.narrowed(left, variable, value);
            if let Some(slot) = self.values.get_mut(variable) {
                *slot = Some(value);
            }
            is_whole &= self.descend(&next, spent + adds, to_end);
            if let Some(slot) = self.values.get_mut(variable) {
                *slot = None;
            }
            if self.steps > STEPS || (!to_end && self.best.is_some()) {
                return is_whole && self.steps <= STEPS;
            }
        }
        is_whole
    }

    /// What is left to the others once `variable` has `value`.
    fn narrowed(&self, left: &[Vec<bool>], variable: usize, value: usize) -> Vec<Vec<bool>> {
        let mut next = left.to_vec();
        for (other, values) in next.iter_mut().enumerate() {
            if other == variable || self.values.get(other).copied().flatten().is_some() {
                continue;
            }
            for (theirs, is_left) in values.iter_mut().enumerate().filter(|(_, is_left)| **is_left) {
                *is_left = !(self.problem.conflicts)((variable, value), (other, theirs));
            }
        }
        next
    }

    fn note_stuck(&mut self, stuck: usize) {
        let depth = self.values.iter().flatten().count();
        if self.deepest.as_ref().is_some_and(|(known, ..)| *known >= depth) {
            return;
        }
        let blocks = |variable: usize, value: usize| {
            let domain = self.problem.domains.get(stuck).map_or(0, Vec::len);
            (0..domain).any(|theirs| (self.problem.conflicts)((variable, value), (stuck, theirs)))
        };
        let taken = self.values.iter().enumerate().filter_map(|(variable, value)| Some((variable, (*value)?)));
        let by = taken.filter(|(variable, value)| blocks(*variable, *value)).map(|(variable, _)| variable).collect();
        self.deepest = Some((depth, stuck, by));
    }
}

/// How often all variables are tried anew.
const ROUNDS: usize = 8;

/// One variable at a time to a cheaper value, until none helps.
fn bettered(problem: &Problem<'_>, mut values: Vec<usize>, mut cost: u64) -> (Vec<usize>, u64) {
    for _ in 0..ROUNDS {
        let before = cost;
        for variable in 0..values.len() {
            let choices = problem.domains.get(variable).map_or(0, Vec::len);
            for value in 0..choices {
                let fits = |(other, theirs): (usize, &usize)| {
                    other == variable || !(problem.conflicts)((variable, value), (other, *theirs))
                };
                let is_open = problem.domains.get(variable).and_then(|domain| *domain.get(value)?).is_some();
                if !is_open || !values.iter().enumerate().all(fits) {
                    continue;
                }
                let mut other = values.clone();
                if let Some(slot) = other.get_mut(variable) {
                    *slot = value;
                }
                let near = |values: &[usize]| {
                    let own = values.get(variable).map_or(0, |value| {
                        let others = values.iter().copied().enumerate();
                        own_cost(problem, variable, *value) + cost_beside(problem, others, (variable, *value))
                    });
                    let groups = problem.groups.iter().enumerate().filter(|(_, group)| group.contains(&variable));
                    own + groups.map(|(group, _)| (problem.group_cost)(group, values)).sum::<u64>()
                };
                let (was, is) = (near(&values), near(&other));
                if is < was {
                    cost = cost + is - was;
                    values = other;
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
}
