//! What an exercise asks of each net: how long its injects take to read out, one after the other, and when the last is through.

use super::message_count::{reading_seconds, words};
use crate::plan::{Clock, Exercise, Inject, Instant, Net, Period, Plan};

/// The injects of one net.
#[derive(Clone)]
pub struct NetLoad<'a> {
    /// The net.
    pub net: &'a Net,
    /// In the order in which they are delivered.
    pub injects: Vec<&'a Inject>,
    /// Words of all of them.
    pub words: usize,
    /// Seconds that reading out all of them takes.
    pub seconds: u64,
    /// By how many seconds the last is read out after the end of the exercise; nothing where it is through in time.
    pub over: u64,
}

/// From when to when an exercise lasts.
#[must_use]
pub fn exercise_period(plan: &Plan, exercise: &Exercise) -> Period {
    let clock = Clock::of(plan);
    Period { from: clock.instant(exercise.from.value), to: clock.instant(exercise.to.value) }
}

/// The text that an inject brings: its own and that of its message.
#[must_use]
pub fn inject_words(plan: &Plan, inject: &Inject) -> usize {
    let message = inject.message.as_ref().and_then(|id| plan.messages.get(&id.value));
    let own = inject.text.as_ref().map_or(0, |text| words(text.as_str()));
    own.saturating_add(message.map_or(0, |message| words(message.text.as_str())))
}

/// Injects in the order in which they are delivered: of one minute, as they are written.
#[must_use]
pub fn in_time_order(plan: &Plan) -> Vec<&Inject> {
    let clock = Clock::of(plan);
    let mut injects: Vec<&Inject> = plan.injects.iter().collect();
    injects.sort_by_key(|inject| clock.instant(inject.at.value));
    injects
}

/// What each net has to carry, by the ids of nets; those without an inject are left out. A net reads one text at a time, and none before
/// it is delivered.
#[must_use]
pub fn net_loads<'a>(plan: &'a Plan, exercise: &Exercise) -> Vec<NetLoad<'a>> {
    let clock = Clock::of(plan);
    let period = exercise_period(plan, exercise);
    let from_start = |at: Instant| u64::try_from(period.from.minutes_to(at)).unwrap_or(0).saturating_mul(60);
    let order = in_time_order(plan);
    let load = |net: &'a Net| {
        // One that comes when nobody is there any more is told as that.
        let is_in_time = |inject: &Inject| clock.instant(inject.at.value) <= period.to;
        let is_own =
            |inject: &&&'a Inject| inject.net.as_ref().is_some_and(|id| id.value == net.id.value) && is_in_time(inject);
        let injects: Vec<&Inject> = order.iter().filter(is_own).copied().collect();
        let (mut total, mut seconds, mut free) = (0_usize, 0_u64, 0_u64);
        for inject in &injects {
            let words = inject_words(plan, inject);
            let long = reading_seconds(words, exercise.pace());
            total = total.saturating_add(words);
            seconds = seconds.saturating_add(long);
            free = free.max(from_start(clock.instant(inject.at.value))).saturating_add(long);
        }
        let over = free.saturating_sub(from_start(period.to));
        (!injects.is_empty()).then_some(NetLoad { net, injects, words: total, seconds, over })
    };
    plan.nets.iter().filter_map(load).collect()
}
