//! Who takes over from whom at a post, and for how long both stand there.

use super::Stand;
use crate::plan::{Instant, Period};

/// The end of a duty.
#[derive(Clone, Copy)]
pub struct Relief<'a> {
    /// The duty that ends.
    pub of: Stand<'a>,
    /// Who stands in the first minute after it; nobody where the post is left.
    pub by: Option<Stand<'a>>,
}

impl Relief<'_> {
    /// How many minutes both stand at the post.
    #[must_use]
    pub fn overlap(&self) -> i64 {
        let shared = self.by.and_then(|by| self.of.period.shared(by.period));
        shared.map_or(0, |both| both.from.minutes_to(both.to))
    }

    /// Whether the same member goes on.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        self.by.is_some_and(|by| by.duty.member.value == self.of.duty.member.value)
    }
}

/// The end of each duty at a post, in order of time. Of several who stand in the first minute after it, the one who came last relieves:
/// who was there before stands a duty of their own.
#[must_use]
pub fn reliefs<'a>(stands: &[Stand<'a>]) -> Vec<Relief<'a>> {
    // The latest end among each and those before it: where that has come, nobody before is there any more.
    let latest = stands.iter().scan(None, |latest: &mut Option<Instant>, stand| {
        *latest = (*latest).max(Some(stand.period.to));
        Some(*latest)
    });
    let with_latest: Vec<(Stand<'a>, Option<Instant>)> = stands.iter().copied().zip(latest).collect();
    let relief = |of: &Stand<'a>| {
        let end = of.period.to;
        // In order of time: whoever begins after the end is of no use here.
        let begun = with_latest.partition_point(|(stand, _)| stand.period.from <= end);
        let back = with_latest.iter().take(begun).rev().take_while(|(_, latest)| *latest > Some(end));
        let by = back.map(|(stand, _)| *stand).find(|stand| stands_at(stand.period, end));
        Relief { of: *of, by }
    };
    stands.iter().map(relief).collect()
}

fn stands_at(period: Period, minute: Instant) -> bool {
    period.from <= minute && minute < period.to
}

/// Stretches of a period in which none of these begins or ends, in order of time.
#[must_use]
pub fn stretches(periods: impl Iterator<Item = Period>, within: Period) -> Vec<Period> {
    let ends = periods.flat_map(|period| [period.from, period.to]);
    let mut ends: Vec<Instant> = ends.filter(|end| within.from < *end && *end < within.to).collect();
    ends.extend([within.from, within.to]);
    ends.sort_unstable();
    ends.dedup();
    ends.windows(2).filter_map(|pair| Some(Period { from: *pair.first()?, to: *pair.last()? })).collect()
}
