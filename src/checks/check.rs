//! A rule and how it is asked: beside all others.

use super::Facts;
use super::trials::Proposing;
use crate::ground::{Findings, Rule, on_all_threads};

/// A rule and how it is checked.
pub struct Check {
    /// The rule.
    pub rule: &'static Rule,
    /// Finds its faults.
    pub run: RuleCheck,
}

/// How the faults of a rule are found.
#[derive(Clone, Copy)]
pub enum RuleCheck {
    /// By the facts alone.
    Finds(fn(Facts<'_>, &mut Findings)),
    /// The same, and what its findings propose is tried.
    Proposes(fn(Facts<'_>, &mut Proposing<'_>, &mut Findings)),
}

impl Check {
    /// What it finds, alone.
    pub(super) fn found(&self, facts: Facts<'_>, proposing: &mut Proposing<'_>) -> Findings {
        let mut found = Findings::default();
        match self.run {
            RuleCheck::Finds(run) => run(facts, &mut found),
            RuleCheck::Proposes(run) => run(facts, proposing, &mut found),
        }
        found
    }
}

/// What each of some rules finds, in their order on any number of threads, where nothing is tried.
pub(super) fn ask(checks: &[&'static Check], facts: Facts<'_>) -> Vec<Findings> {
    let found = |check: &&Check| check.found(facts, &mut Proposing::nothing());
    on_all_threads(checks, 1, found)
}
