//! Who stands duty when: gaps, stretches of time with the same people, and the time in which posts are meant to be stood.

use crate::plan::{Clock, Duty, Instant, Period, Plan, Post};

/// A duty with its period. One that ends before it begins, a finding of its own, has none.
#[derive(Clone, Copy)]
pub struct Stand<'a> {
    /// The duty.
    pub duty: &'a Duty,
    /// From when to when.
    pub period: Period,
}

/// A stretch of time in which nobody stands.
#[derive(Clone, Copy)]
pub struct Gap<'a> {
    /// From when to when.
    pub period: Period,
    /// Who stood last before it.
    pub before: Option<&'a Duty>,
    /// Who stands first after it.
    pub after: Option<&'a Duty>,
}

/// Minutes without any duty after which what follows is taken for another occasion: a day. Common practice, no source.
const APART: i64 = 24 * 60;

/// All duties in order of time.
#[must_use]
pub fn stands(plan: &Plan) -> Vec<Stand<'_>> {
    stands_of(plan, plan.duties.iter())
}

/// The duties at one post in order of time, where nothing else of the plan is asked for.
#[must_use]
pub fn stands_at<'a>(plan: &'a Plan, post: &Post) -> Vec<Stand<'a>> {
    stands_of(plan, plan.duties.iter().filter(|duty| duty.post.value == post.id.value))
}

/// Some duties of a plan in order of time.
#[must_use]
pub fn stands_of<'a>(plan: &Plan, duties: impl Iterator<Item = &'a Duty>) -> Vec<Stand<'a>> {
    let clock = Clock::of(plan);
    let period = |duty: &Duty| Period { from: clock.instant(duty.from.value), to: clock.instant(duty.to.value) };
    let all = duties.map(|duty| Stand { duty, period: period(duty) });
    let mut stands: Vec<Stand<'_>> = all.filter(|stand| stand.period.from < stand.period.to).collect();
    stands.sort_by_key(|stand| stand.period);
    stands
}

/// Periods in order of time, those that meet or follow each other without a break as one.
#[must_use]
pub fn runs(periods: &[Period]) -> Vec<Period> {
    let mut runs: Vec<Period> = Vec::new();
    for period in periods {
        match runs.last_mut().filter(|run| period.from <= run.to) {
            Some(run) => run.to = run.to.max(period.to),
            None => runs.push(*period),
        }
    }
    runs
}

/// When posts are meant to be stood: in the incident's period or, without one, from the first duty to the last, parted where
/// nobody in the whole plan stands duty for a day.
#[must_use]
pub fn occasions(plan: &Plan) -> Vec<Period> {
    occasions_of(plan, &stands(plan))
}

/// The same of a plan whose duties are these in order of time.
pub(super) fn occasions_of(plan: &Plan, stands: &[Stand<'_>]) -> Vec<Period> {
    let clock = Clock::of(plan);
    if let Some(incident) = &plan.incident {
        let period = Period { from: clock.instant(incident.from.value), to: clock.instant(incident.to.value) };
        return if period.from < period.to { vec![period] } else { Vec::new() };
    }
    let mut occasions: Vec<Period> = Vec::new();
    for stand in stands {
        match occasions.last_mut() {
            Some(last) if last.to.minutes_to(stand.period.from) < APART => last.to = last.to.max(stand.period.to),
            _ => occasions.push(stand.period),
        }
    }
    occasions
}

/// When a post is meant to be stood: all occasions, as far as the post's own `from` and `to` reach.
#[must_use]
pub fn hours(plan: &Plan, post: &Post, occasions: &[Period]) -> Vec<Period> {
    let clock = Clock::of(plan);
    let from = post.from.map(|time| clock.instant(time.value));
    let to = post.to.map(|time| clock.instant(time.value));
    let own = |occasion: &Period| {
        let from = from.map_or(occasion.from, |from| from.max(occasion.from));
        let to = to.map_or(occasion.to, |to| to.min(occasion.to));
        (from < to).then_some(Period { from, to })
    };
    occasions.iter().filter_map(own).collect()
}

/// When a post is meant to be stood by somebody at `stands`, its own duties. In a plan without an incident only duties say that it is at all.
#[must_use]
pub fn meant(plan: &Plan, post: &Post, stands: &[Stand<'_>], occasions: &[Period]) -> Vec<Period> {
    let hours = hours(plan, post, occasions);
    let is_stood = || hours.iter().any(|hours| stands.iter().any(|stand| stand.period.meets(*hours)));
    if plan.incident.is_some() || is_stood() { hours } else { Vec::new() }
}

/// What of `within` none of `stands`, in order of time, covers.
#[must_use]
pub fn gaps<'a>(stands: &[Stand<'a>], within: Period) -> Vec<Gap<'a>> {
    let mut gaps = Vec::new();
    let (mut covered, mut before) = (within.from, None);
    let mut latest: Option<Instant> = None;
    for Stand { duty, period } in stands {
        if period.from > covered {
            let to = period.from.min(within.to);
            if covered < to {
                gaps.push(Gap { period: Period { from: covered, to }, before, after: Some(*duty) });
            }
        }
        covered = covered.max(period.to);
        if latest.is_none_or(|latest| latest < period.to) {
            (latest, before) = (Some(period.to), Some(*duty));
        }
        if covered >= within.to {
            return gaps;
        }
    }
    gaps.push(Gap { period: Period { from: covered, to: within.to }, before, after: None });
    gaps
}
