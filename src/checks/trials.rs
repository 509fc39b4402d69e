//! What rules may still try before they propose it.

use crate::ground::Subject;
use crate::plan::{Channel, Plan};
use crate::reckon::Sites;
use std::cell::{Cell, OnceCell, RefCell};
use std::collections::BTreeSet;

/// Most records that the rules read again for all proposals of a run: a county has a few hundred, so that every fault may be shown
/// its way out; a state has thousands, and the first few show it.
const MOST_READ: usize = 20_000;
/// How many products of three at a crowded site take as long as a record.
const PRODUCTS: usize = 256;

/// What a rule found, without its words, which have frequencies in them.
pub(super) type Found = BTreeSet<(&'static str, Vec<Subject>)>;

/// What all rules of a run may still try.
pub struct Trials {
    /// What the rules find in the plan as it is, once somebody asked.
    pub(super) before: OnceCell<Found>,
    /// What it takes to read the plan, in records.
    records: usize,
    /// How many may still be read.
    left: Cell<usize>,
    /// Channels as they were proposed in this run: whoever types two proposals must not make one collide with the other.
    pub(super) proposed: RefCell<Vec<Channel>>,
}

impl Trials {
    /// Nothing tried yet.
    #[must_use]
    pub(super) fn of(plan: &Plan, sites: &Sites<'_>) -> Self {
        let radio = [plan.channels.len(), plan.repeaters.len(), plan.gateways.len(), plan.nets.len()];
        let people = [plan.members.len(), plan.posts.len(), plan.duties.len(), plan.places.len()];
        // Three transmitters at a place make a product, and the rules look at each.
        let sites = plan.places.iter().map(|place| sites.sending(place));
        let records = weight(radio.into_iter().chain(people).sum(), sites);
        Self { before: OnceCell::new(), records, left: Cell::new(MOST_READ), proposed: RefCell::default() }
    }

    /// What was proposed for other channels than `own`.
    pub(super) fn for_others(&self, own: &Channel) -> Vec<Channel> {
        let proposed = self.proposed.borrow();
        proposed.iter().filter(|channel| channel.id.value != own.id.value).cloned().collect()
    }

    /// Whether the rules may read the plan once more; counts it.
    pub(super) fn may_read(&self) -> bool {
        let left = self.left.get().checked_sub(self.records);
        self.left.set(left.unwrap_or(0));
        left.is_some()
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
    use std::cell::{Cell, OnceCell, RefCell};

    #[test]
    fn a_large_plan_is_read_for_few_proposals_and_a_larger_one_for_none() {
        let reads = |records: usize| {
            let left = Cell::new(MOST_READ);
            let trials = Trials { before: OnceCell::new(), records, left, proposed: RefCell::default() };
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
