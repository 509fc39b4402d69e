//! What rules may still try before they propose it.

use crate::ground::{Finding, Subject};
use crate::plan::{Channel, Plan};
use crate::reckon::Sites;
use std::collections::BTreeSet;

/// Most records that the rules read again for all proposals of a run: a county has a few hundred, so that every fault may be shown
/// its way out; a state has thousands, and the first few show it.
const MOST_READ: usize = 20_000;
/// How many products of three at a crowded site take as long as a record.
const PRODUCTS: usize = 256;

/// What a rule found, without its words, which have frequencies in them.
pub(super) type Found = BTreeSet<(&'static str, Vec<Subject>)>;

/// A finding without its words.
pub(super) fn wordless(finding: &Finding) -> (&'static str, Vec<Subject>) {
    (finding.rule.name, finding.on.clone())
}

/// Most channels that one rule looks for another frequency for; more is a wrong unit, and one mend shows the way.
const MOST_SEARCHES: usize = 5;

/// What all rules of a run may still try.
pub(super) struct Trials {
    /// What the rules find in the plan as it is, once somebody asked.
    pub before: Option<Found>,
    /// What it takes to read the plan, in records.
    records: usize,
    /// How many may still be read.
    left: usize,
    /// Channels as they were proposed in this run: whoever types two proposals must not make one collide with the other.
    pub proposed: Vec<Channel>,
}

impl Trials {
    /// Nothing tried yet.
    #[must_use]
    pub(super) fn of(plan: &Plan, sites: &Sites<'_>) -> Self {
        let radio = [plan.channels.len(), plan.repeaters.len(), plan.gateways.len(), plan.nets.len()];
        let people = [plan.members.len(), plan.posts.len(), plan.duties.len(), plan.places.len()];
        // Three transmitters at a place make a product, and the rules look at each.
        let sites = plan.places.iter().map(|place| sites.sending(place));
        Self::reading(weight(radio.into_iter().chain(people).sum(), sites))
    }

    const fn reading(records: usize) -> Self {
        Self { before: None, records, left: MOST_READ, proposed: Vec::new() }
    }

    /// What was proposed for other channels than `own`.
    pub(super) fn for_others(&self, own: &Channel) -> Vec<Channel> {
        self.proposed.iter().filter(|channel| channel.id.value != own.id.value).cloned().collect()
    }

    /// Whether the rules may read the plan once more; counts it.
    pub(super) fn may_read(&mut self) -> bool {
        let left = self.left.checked_sub(self.records);
        self.left = left.unwrap_or(0);
        left.is_some()
    }
}

/// What one rule may try before it proposes something.
pub struct Proposing<'a> {
    /// None in a plan that is itself a trial.
    trials: Option<&'a mut Trials>,
    /// How often it has looked: a plan with a thousand faults is told of all, and shown five ways out.
    searched: usize,
}

impl<'a> Proposing<'a> {
    /// As much as all rules together may.
    pub(super) const fn of(trials: &'a mut Trials) -> Self {
        Self { trials: Some(trials), searched: 0 }
    }

    /// Nothing.
    pub(super) const fn nothing() -> Self {
        Self { trials: None, searched: 0 }
    }

    /// Whether there is anything to try at all.
    pub(super) const fn may_try(&self) -> bool {
        self.trials.is_some()
    }

    /// What may be tried for one channel more; none when the rule has looked often enough. Counts it.
    pub(super) fn search(&mut self) -> Option<&mut Trials> {
        self.searched += 1;
        self.trials.as_deref_mut().filter(|_| self.searched <= MOST_SEARCHES)
    }
}

/// What it takes to read so many records with so many transmitters at each place, in records.
fn weight(records: usize, sites: impl Iterator<Item = usize>) -> usize {
    let products = sites.map(|senders| senders.saturating_pow(3)).fold(0, usize::saturating_add);
    records.max(1).saturating_add(products / PRODUCTS)
}

#[cfg(test)]
mod tests {
    use super::{MOST_READ, Trials, weight};

    #[test]
    fn a_large_plan_is_read_for_few_proposals_and_a_larger_one_for_none() {
        let reads = |records: usize| {
            let mut trials = Trials::reading(records);
            (0..1000).filter(|_| trials.may_read()).count()
        };
        assert_eq!([reads(200), reads(6000), reads(MOST_READ), reads(MOST_READ + 1)], [100, 3, 1, 0]);
    }

    /// What the rules do at a place grows with the cube of what sends there: a county's sites weigh next to nothing, a place that
    /// monitors 200 channels as much as a state.
    #[test]
    fn a_crowded_site_weighs_as_much_as_thousands_of_records() {
        let of = |records, sites: &[usize]| weight(records, sites.iter().copied());
        assert_eq!([of(150, &[12, 4, 3]), of(200, &[100]), of(202, &[200])], [157, 4106, 31_452]);
        assert!(of(202, &[200]) > MOST_READ && of(1, &[usize::MAX]) > MOST_READ);
    }
}
