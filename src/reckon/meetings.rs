//! When nets meet, by the clocks of the place and by UTC, and which meet at once.

use crate::plan::{Channel, Clock, LocalTime, Meeting, MeetingDay, Net, Plan, Shown, TimeOfDay};
use chrono::{Datelike, TimeDelta};
use std::collections::BTreeSet;

/// Most days of an edition that are looked at for a change of the clocks: each kind of day comes in a year.
const DAYS: usize = 400;
/// Minutes of a day and of a week.
const DAY: i64 = 24 * 60;
const WEEK: i64 = 7 * DAY;

/// The channel on which a net meets then.
#[must_use]
pub fn meets_on<'a>(plan: &'a Plan, net: &Net, meeting: &Meeting) -> Option<&'a Channel> {
    let on = meeting.on.as_ref().or_else(|| net.legs.first().map(|leg| &leg.channel));
    on.and_then(|id| plan.channels.get(id))
}

/// What clocks that show UTC say when the meeting begins: `02:30 Wednesday`; two where the clocks of the place change while the edition
/// is valid, that of summer time last.
#[must_use]
pub fn utc_words(plan: &Plan, meeting: &Meeting) -> Vec<String> {
    let clock = Clock::of(plan);
    let ahead: BTreeSet<i64> = times(plan, meeting, meeting.at.value).map(|time| clock.ahead(time)).collect();
    ahead.into_iter().map(|ahead| utc_of(meeting, ahead)).collect()
}

/// When it meets on a night in which clocks show that time of day twice, or never, while the edition is valid.
#[must_use]
pub fn unclear_meetings(plan: &Plan, meeting: &Meeting) -> Vec<LocalTime> {
    let clock = Clock::of(plan);
    times(plan, meeting, meeting.at.value).filter(|time| clock.shown(*time) != Shown::Once).collect()
}

/// The next time of day, by half hours, at which clocks are clear on all days of a meeting.
#[must_use]
pub fn clear_time(plan: &Plan, meeting: &Meeting) -> Option<TimeOfDay> {
    let clock = Clock::of(plan);
    let later = |minutes: i64| TimeOfDay::of_minutes(meeting.at.value.as_minutes() + minutes);
    let is_clear = |at: &TimeOfDay| times(plan, meeting, *at).all(|time| clock.shown(time) == Shown::Once);
    (1..12).filter_map(|halves| later(halves * 30)).find(is_clear)
}

/// The times at which a meeting begins while the edition is valid, and in its first week, were it at that time of day.
fn times(plan: &Plan, meeting: &Meeting, at: TimeOfDay) -> impl Iterator<Item = LocalTime> {
    let valid =
        plan.edition.as_ref().map(|edition| (edition.valid_from.value.as_date(), edition.review_by.value.as_date()));
    let day = meeting.day.value;
    let days = valid.into_iter().flat_map(|(first, last)| {
        let last = last.max(first + TimeDelta::days(6));
        first.iter_days().take(DAYS).take_while(move |day| *day <= last)
    });
    days.filter(move |on| day.is_on(on.weekday())).map(move |day| LocalTime::of(day.and_time(at.as_naive())))
}

/// What UTC says where the clocks of the place are some minutes ahead of it.
fn utc_of(meeting: &Meeting, ahead: i64) -> String {
    let minutes = meeting.at.value.as_minutes() - ahead;
    let of_day = minutes.rem_euclid(DAY);
    let time = format!("{:02}:{:02}", of_day / 60, of_day % 60);
    let later = minutes.div_euclid(DAY);
    match (meeting.day.value.weekday(), later) {
        (_, 0) => time,
        (Some(day), 1..) => format!("{time} {}", MeetingDay::of(day.succ())),
        (Some(day), _) => format!("{time} {}", MeetingDay::of(day.pred())),
        (None, 1..) => format!("{time} the next day"),
        (None, _) => format!("{time} the day before"),
    }
}

/// Whether two meetings have a minute of some week in common, by the clocks of the place. One that says no length is taken to begin
/// alone.
#[must_use]
pub fn meet_at_once(one: &Meeting, other: &Meeting) -> bool {
    let starts = |meeting: &Meeting| -> Vec<i64> {
        let at = meeting.at.value.as_minutes();
        match meeting.day.value.weekday() {
            Some(day) => vec![i64::from(day.num_days_from_monday()) * DAY + at],
            None => (0..7).map(|day| day * DAY + at).collect(),
        }
    };
    let length = |meeting: &Meeting| {
        let minutes = meeting.lasts.map_or(1, |lasts| lasts.value.as_seconds().div_ceil(60));
        i64::try_from(minutes).unwrap_or(WEEK).clamp(1, WEEK)
    };
    let follows = |first: i64, long: i64, second: i64| (second - first).rem_euclid(WEEK) < long;
    let (one_at, other_at) = (starts(one), starts(other));
    one_at.iter().any(|a| other_at.iter().any(|b| follows(*a, length(one), *b) || follows(*b, length(other), *a)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test fails by panicking")]
mod tests {
    use super::{meet_at_once, utc_of};
    use crate::ground::{At, Lapse, Span};
    use crate::plan::{Meeting, MeetingDay, TimeOfDay};

    fn meeting(day: MeetingDay, at: &str, minutes: Option<u64>) -> Meeting {
        let here = Span::NOWHERE;
        let lasts = minutes.map(|minutes| At::new(Lapse::seconds(minutes * 60), here));
        let (day, at) = (At::new(day, here), At::new(TimeOfDay::parse(at).unwrap(), here));
        Meeting { day, at, lasts, on: None, span: here }
    }

    /// By hand: Denver is 7 h behind UTC, 6 h in summer; Auckland 12 h ahead, Kathmandu 5 h 45 min.
    #[test]
    fn utc_says_its_own_day() {
        let on = |day, at, ahead| utc_of(&meeting(day, at, None), ahead);
        assert_eq!(on(MeetingDay::Tuesday, "19:30", -420), "02:30 Wednesday");
        assert_eq!(on(MeetingDay::Tuesday, "17:30", -360), "23:30");
        assert_eq!(on(MeetingDay::Monday, "07:00", 720), "19:00 Sunday");
        assert_eq!(on(MeetingDay::Sunday, "20:00", -420), "03:00 Monday");
        assert_eq!(on(MeetingDay::Daily, "05:00", 345), "23:15 the day before");
        assert_eq!(on(MeetingDay::Daily, "18:00", -360), "00:00 the next day");
    }

    #[test]
    fn a_meeting_over_the_end_of_the_week_meets_one_at_its_beginning() {
        let late = meeting(MeetingDay::Sunday, "23:30", Some(60));
        assert!(meet_at_once(&late, &meeting(MeetingDay::Monday, "00:29", None)));
        assert!(!meet_at_once(&late, &meeting(MeetingDay::Monday, "00:30", None)));
        assert!(meet_at_once(&meeting(MeetingDay::Daily, "23:45", None), &late));
        assert!(!meet_at_once(&meeting(MeetingDay::Saturday, "23:45", Some(60)), &late));
    }
}
