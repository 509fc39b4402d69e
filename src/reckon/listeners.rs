//! What the plan hears anywhere, for products that fall on it from afar.

use super::coverage::{Coverage, Heard, Spots, spots_can_meet};
use super::intermod::SiteSignal;
use super::site_end::{By, Keyed, SiteEnd};
use super::{Transmission, Unreckoned};
use crate::ground::Id;
use crate::plan::Channel;
use std::collections::BTreeSet;

/// All that is heard on the channels of a plan, found once for all places.
pub(super) struct Listeners<'a> {
    /// In the plan's order.
    all: Vec<Listener<'a>>,
    /// The middle of each with its place in the list, by frequency.
    sorted: Vec<(i64, usize)>,
    /// Those of which nothing can be reckoned.
    unreckoned: BTreeSet<usize>,
    widest: i64,
}

/// A channel, with its repeater's input.
struct Listener<'a> {
    ends: Result<Vec<SiteEnd>, Unreckoned>,
    spots: Spots<'a>,
    /// Where its repeater stands.
    at: Option<&'a Id>,
}

impl<'a> Listeners<'a> {
    pub fn of(by: By<'a>) -> Self {
        let coverage = Coverage::of(by.plan);
        let all: Vec<Listener<'a>> =
            by.plan.channels.iter().map(|channel| Listener::of(channel, by, &coverage)).collect();
        let (mut sorted, mut unreckoned, mut widest) = (Vec::new(), BTreeSet::new(), 0);
        for (index, listener) in all.iter().enumerate() {
            match &listener.ends {
                Ok(ends) => sorted.extend(ends.iter().map(|end| {
                    widest = widest.max(hertz(end.signal.width.as_hertz()));
                    (hertz(end.signal.at.as_hertz()), index)
                })),
                Err(_) => drop(unreckoned.insert(index)),
            }
        }
        sorted.sort_unstable();
        Self { all, sorted, unreckoned, widest }
    }

    /// What each channel hears on which a product of `own` may fall, in the plan's order: of those in reach, but for what goes
    /// through a repeater that stands there.
    pub fn near(
        &self,
        own: &[SiteSignal],
        (reach, place): (Heard<'_>, &Id),
    ) -> impl Iterator<Item = Result<Vec<SiteEnd>, Unreckoned>> {
        let here: Spots<'_> = reach.map(|at| vec![at]);
        let near = self.on_products(own).into_iter().filter_map(|index| self.all.get(index));
        near.filter(move |one| one.at != Some(place) && spots_can_meet(&one.spots, &here)).map(|one| one.ends.clone())
    }

    fn on_products(&self, own: &[SiteSignal]) -> BTreeSet<usize> {
        let widest = own.iter().map(|signal| hertz(signal.width.as_hertz())).max().unwrap_or(0);
        // No product is wider than five times the widest of its signals.
        let reach = (5 * widest + self.widest) / 2 + 1;
        let mut near = self.unreckoned.clone();
        let mut meet = |at: i64| {
            let from = self.sorted.partition_point(|(middle, _)| *middle < at - reach);
            let rest = self.sorted.get(from..).unwrap_or_default();
            near.extend(rest.iter().take_while(|(middle, _)| *middle <= at + reach).map(|(_, index)| *index));
        };
        let own: Vec<i64> = own.iter().map(|signal| hertz(signal.at.as_hertz())).collect();
        for (a, first) in own.iter().enumerate() {
            for (b, second) in own.iter().enumerate().filter(|(b, _)| *b != a) {
                meet(3 * first - 2 * second);
                meet(2 * first - second);
                if a < b {
                    own.iter().for_each(|third| meet(first + second - third));
                }
            }
        }
        near
    }
}

impl<'a> Listener<'a> {
    fn of(channel: &'a Channel, by: By<'a>, coverage: &Coverage<'a>) -> Self {
        let repeater = channel.repeater().and_then(|id| by.plan.repeaters.get(id));
        let input = repeater.and_then(|repeater| Transmission::input_of(by.plan, repeater));
        let ends = std::iter::once(Transmission::heard_on(by.plan, channel)).chain(input);
        let distant = |sent| Ok(SiteEnd { is_distant: true, ..SiteEnd::of(&sent, Keyed::Others, by)? });
        let at = repeater.and_then(|repeater| Some(&*repeater.place.as_ref()?.value));
        Self { ends: ends.map(distant).collect(), spots: coverage.spots_of(channel), at }
    }
}

fn hertz(value: u64) -> i64 {
    i64::try_from(value).unwrap_or(i64::MAX / 8)
}
