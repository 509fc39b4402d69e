//! How much duty is too much: what `[duty-limits]` says, or the careful value.

use crate::ground::{At, Lapse, Span};
use crate::plan::Plan;

/// The limits of a plan, each with the place where it is written.
#[derive(Clone, Copy, Debug)]
pub struct MuchDuty {
    /// The most minutes of duty without a rest: 16 hours (common practice, no source).
    pub longest: Limit,
    /// Minutes off that are a rest: 8 hours (common practice, no source).
    pub rest: Limit,
    /// The most nights in a row: three, as HSG256 of the British safety authority advises at most (2006, from memory).
    pub nights: Limit,
    /// Minutes for which both stand at a post; none where the plan does not want any.
    pub handover: Option<Limit>,
}

/// A limit: minutes, or a count.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// How much.
    pub most: i64,
    /// Where the plan says so; nowhere for the careful value.
    pub at: Option<Span>,
}

impl MuchDuty {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let own = plan.duty_limits.as_ref();
        let or = |written: Option<At<Lapse>>, careful: i64| written.map_or(Limit { most: careful, at: None }, minutes);
        let nights = own.and_then(|own| own.nights);
        Self {
            longest: or(own.and_then(|own| own.longest), 16 * 60),
            rest: or(own.and_then(|own| own.rest), 8 * 60),
            nights: nights.map_or(Limit { most: 3, at: None }, |nights| Limit {
                most: i64::from(nights.value.get()),
                at: Some(nights.span),
            }),
            handover: own.and_then(|own| own.handover).map(minutes),
        }
    }
}

/// Whole minutes: of a part of one all of it counts.
fn minutes(written: At<Lapse>) -> Limit {
    let minutes = i64::try_from(written.value.as_seconds().div_ceil(60)).unwrap_or(i64::MAX);
    Limit { most: minutes, at: Some(written.span) }
}
