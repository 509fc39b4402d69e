//! When somebody's authority to send begins or ends while they stand: a night's shift may see the last day of a licence.

use super::{Stand, Term};
use crate::ground::{Day, Id};
use crate::plan::{Clock, Instant, Member, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// Each such moment within `stands`, in order of time: the first minute of a day on which a licence of who stands then has ended,
/// or an agreement begins or has ended.
#[must_use]
pub(super) fn turns(plan: &Plan, stands: &[Stand<'_>]) -> BTreeSet<Instant> {
    let clock = Clock::of(plan);
    let after = |day: Day| day.as_date().succ_opt().map(|next| clock.begins(Day::from_date(next)));
    let mut ends: BTreeMap<&Id, Vec<Instant>> = BTreeMap::new();
    let mut turns = BTreeSet::new();
    for stand in stands {
        let Some(member) = plan.members.get(&stand.duty.member) else { continue };
        let own = ends.entry(&member.id.value).or_insert_with(|| terms(member).filter_map(after).collect());
        turns.extend(own.iter().filter(|at| stand.period.from < **at && **at < stand.period.to));
    }
    let (first, last) =
        (stands.first().map(|first| first.period.from), stands.iter().map(|stand| stand.period.to).max());
    let Some((first, last)) = first.zip(last) else { return turns };
    let of = plan.agreements.iter();
    let all = of.flat_map(|agreement| [Some(clock.begins(agreement.signed.value)), after(agreement.expires.value)]);
    turns.extend(all.flatten().filter(|at| first < *at && *at < last));
    turns
}

/// The last days of a member's licences.
fn terms(member: &Member) -> impl Iterator<Item = Day> + '_ {
    let others = member.licences.iter().map(Term::of);
    std::iter::once(Term::of_member(member)).chain(others).filter_map(Term::last_day)
}
