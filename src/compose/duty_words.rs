//! Duties in words: when, by the clocks of the place and by UTC, how long it really is, and who relieves whom.

use super::foot::member_words;
use crate::audience::View;
use crate::ground::hours_words;
use crate::plan::{Clock, ClockChange, Duty, Instant, LocalTime, Period, Plan, Post};
use crate::reckon::Relief;

/// `Sat 2027-01-16 06:00 to 18:00`; the second day is said where it is another one. Of a time that clocks show twice it is told which.
pub(super) fn local_short(clock: Clock, period: Period) -> String {
    local(clock, period, day_short, |at| clock.time(at))
}

/// The same in full, for where UTC does not stand beside it: `Sunday 2027-11-07 01:15 CST (07:15 UTC) to 12:00`; with its length where clocks change.
pub(super) fn local_words_alone(clock: Clock, period: Period) -> String {
    let words = local(clock, period, weekday, |at| clock.time_and_utc(at));
    format!("{words}{}", across(clock, period))
}

/// ` (12 h 15 min: Sun at 02:00 the clocks go back 1 h to 01:00)`; nothing where they stay.
pub(super) fn across(clock: Clock, period: Period) -> String {
    change_words(clock, period)
        .map_or_else(String::new, |change| format!(" ({}: {change})", hours_words(period.from.minutes_to(period.to))))
}

fn local(clock: Clock, period: Period, day: fn(LocalTime) -> String, time: impl Fn(Instant) -> String) -> String {
    let [from, to] = [period.from, period.to].map(|at| clock.local(at));
    let is_one_day = from.as_naive().date() == to.as_naive().date();
    // A weekday alone says which one it is for less than a week.
    let is_one_week = period.from.minutes_to(period.to) < 6 * 24 * 60;
    let (begins, ends) = (time(period.from), time(period.to));
    let ends = match (is_one_day, is_one_week) {
        (true, _) => ends,
        (false, true) => format!("{} {ends}", day(to)),
        (false, false) => format!("{} {} {ends}", day(to), clock.day(period.to)),
    };
    format!("{} {} {begins} to {ends}", day(from), clock.day(period.from))
}

/// `13:00 to 01:00 UTC`: a heading over it says so where the day is another one.
pub(super) fn utc_span(period: Period) -> String {
    let (from, to) = (period.from.utc(), period.to.utc());
    format!("{} {} to {} {}", day_short(from), time(from), day_short(to), time(to))
}

/// `Sat 06:00`, `Sun 01:15 CST`.
pub(super) fn short_time(clock: Clock, at: Instant) -> String {
    format!("{} {}", day_short(clock.local(at)), clock.time(at))
}

/// The changes of the clocks in a period, where there is one: `Sun at 02:00 the clocks go back 1 h to 01:00`.
pub(super) fn change_words(clock: Clock, period: Period) -> Option<String> {
    let words = |change: &ClockChange| {
        let by = (change.to.as_naive() - change.from.as_naive()).num_minutes();
        let way = if by > 0 { "forward" } else { "back" };
        let (day, at, to) = (day_short(change.from), time(change.from), time(change.to));
        format!("{day} at {at} the clocks go {way} {} to {to}", hours_words(by.saturating_abs()))
    };
    let changes: Vec<String> = clock.changes(period).iter().map(words).collect();
    (!changes.is_empty()).then(|| changes.join(", "))
}

/// What is printed of a time of the plan: what clocks show at its instant, with which of two it is.
pub(super) fn moment(time: LocalTime, plan: &Plan) -> String {
    let clock = Clock::of(plan);
    clock.moment(clock.instant(time))
}

/// `2026-12-05 06:00 to 2026-12-06 06:00 (America/Denver)`.
pub(super) fn period_in_zone(from: LocalTime, to: LocalTime, plan: &Plan) -> String {
    let zone = plan.head.as_ref().map(|head| format!(" ({})", head.time_zone.value.name())).unwrap_or_default();
    format!("{} to {}{zone}", moment(from, plan), moment(to, plan))
}

fn weekday(at: LocalTime) -> String {
    at.as_naive().format("%A").to_string()
}

fn day_short(at: LocalTime) -> String {
    at.as_naive().format("%a").to_string()
}

fn time(at: LocalTime) -> String {
    at.as_naive().format("%H:%M").to_string()
}

/// `WZ7QSB Odell Strand`; the call sign alone where this copy's readers may not know the name.
pub(super) fn stood_by(duty: &Duty, view: &View<'_>) -> String {
    let Some(member) = view.plan().members.get(&duty.member.value) else { return "somebody".to_owned() };
    view.name(member).map_or_else(
        || member.call.as_ref().map_or_else(|| "somebody".to_owned(), |call| call.to_string()),
        |_| member_words(member),
    )
}

/// `WZ7QSB Odell Strand, 30 min together`, or that nobody comes.
pub(super) fn relieved_by(relief: &Relief<'_>, view: &View<'_>) -> String {
    match (relief.by, relief.overlap()) {
        (None, _) => "NOBODY".to_owned(),
        (Some(by), _) if relief.goes_on() => format!("goes on: {}", stood_by(by.duty, view)),
        (Some(by), 0) => stood_by(by.duty, view),
        (Some(by), both) => format!("{}, {} together", stood_by(by.duty, view), hours_words(both)),
    }
}

/// The same, where nobody comes with whether the post closes then, as far as the plan says until when it is stood.
pub(super) fn relieved_at(relief: &Relief<'_>, post: &Post, view: &View<'_>) -> String {
    match relief.by {
        None if closes(post, view.plan(), relief.of.period.to) => "the post closes".to_owned(),
        _ => relieved_by(relief, view),
    }
}

/// Whether a post is no longer meant to be stood from then on, as far as the plan says until when it is.
pub(super) fn closes(post: &Post, plan: &Plan, end: Instant) -> bool {
    let clock = Clock::of(plan);
    let ends = [post.to, plan.incident.as_ref().map(|incident| incident.to)];
    ends.into_iter().flatten().any(|to| clock.instant(to.value) <= end)
}
