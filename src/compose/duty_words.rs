//! Duties in words: when, by the clocks of the place and by UTC, how long it really is, and who relieves whom.

use super::foot::member_words;
use crate::audience::View;
use crate::plan::{Duty, LocalTime, Post};
use crate::reckon::{Clock, Instant, Period, Relief};

/// `Saturday 2027-01-16 06:00 to 18:00`; the second day is said where it is another one.
pub(super) fn local_words(clock: Clock, period: Period) -> String {
    let (from, to) = (clock.local(period.from), clock.local(period.to));
    let is_one_day = from.as_naive().date() == to.as_naive().date();
    // A weekday alone says which one it is for less than a week.
    let is_one_week = period.from.minutes_to(period.to) < 6 * 24 * 60;
    let to = match (is_one_day, is_one_week) {
        (true, _) => time(to),
        (false, true) => format!("{} {}", weekday(to), time(to)),
        (false, false) => format!("{} {to}", weekday(to)),
    };
    format!("{} {from} to {to}", weekday(from))
}

/// `13:00 to 01:00 UTC`: a heading over it says so where the day is another one.
pub(super) fn utc_span(period: Period) -> String {
    let (from, to) = (period.from.utc(), period.to.utc());
    format!("{} {} to {} {}", day_short(from), time(from), day_short(to), time(to))
}

/// `Sat 06:00`.
pub(super) fn short_time(clock: Clock, at: Instant) -> String {
    let at = clock.local(at);
    format!("{} {}", day_short(at), time(at))
}

/// `12 h`, `11 h 30 min`: minutes that pass, not those that the clocks show.
pub(super) fn length(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// The change of the clocks in a period, where there is one: `clocks go back 1 h`.
pub(super) fn change_words(clock: Clock, period: Period) -> Option<String> {
    let shown = clock.local(period.to).as_naive() - clock.local(period.from).as_naive();
    match shown.num_minutes() - period.from.minutes_to(period.to) {
        0 => None,
        forward @ 1.. => Some(format!("clocks go forward {}", length(forward))),
        back => Some(format!("clocks go back {}", length(back.saturating_neg()))),
    }
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
        (Some(by), both) => format!("{}, {} together", stood_by(by.duty, view), length(both)),
    }
}

/// The same, where nobody comes with whether the post closes then, as far as the plan says until when it is stood.
pub(super) fn relieved_at(relief: &Relief<'_>, post: &Post, view: &View<'_>) -> String {
    let (plan, end) = (view.plan(), relief.of.period.to);
    let clock = Clock::of(plan);
    let ends = [post.to, plan.incident.as_ref().map(|incident| incident.to)];
    let closes = ends.into_iter().flatten().any(|to| clock.instant(to.value) <= end);
    match relief.by {
        None if closes => "the post closes".to_owned(),
        _ => relieved_by(relief, view),
    }
}
