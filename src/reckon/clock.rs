//! The plan's clock: local times as instants, so that a night in which the clocks change is as long as it is.

use crate::ground::{Day, ShownTime, TimeZone};
use crate::plan::{LocalTime, Plan};
use chrono::{DateTime, NaiveDateTime};

/// A moment, to the minute, the same in every time zone.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Instant(i64);

impl Instant {
    /// So many minutes after 1970 began at UTC.
    #[must_use]
    pub const fn minutes(n: i64) -> Self {
        Self(n)
    }

    /// Minutes since 1970 began at UTC.
    #[must_use]
    pub const fn as_minutes(self) -> i64 {
        self.0
    }

    /// How many minutes `later` comes after this; negative where it comes before.
    #[must_use]
    pub const fn minutes_to(self, later: Self) -> i64 {
        later.0 - self.0
    }

    /// So many minutes later.
    #[must_use]
    pub const fn after(self, minutes: i64) -> Self {
        Self(self.0.saturating_add(minutes))
    }

    /// What clocks that show UTC show.
    #[must_use]
    pub fn utc(self) -> LocalTime {
        Clock(TimeZone::UTC).local(self)
    }
}

/// A stretch of time, without the minute in which it ends.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Period {
    /// When it begins.
    pub from: Instant,
    /// When it has ended.
    pub to: Instant,
}

impl Period {
    /// Whether some minute lies in both.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.from.max(other.from) < self.to.min(other.to)
    }

    /// What lies in both; none where no minute does.
    #[must_use]
    pub fn shared(self, other: Self) -> Option<Self> {
        let (from, to) = (self.from.max(other.from), self.to.min(other.to));
        (from < to).then_some(Self { from, to })
    }
}

/// How often the clocks of the place show a local time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Shown {
    /// As nearly always.
    Once,
    /// In the hour that comes again when the clocks go back.
    Twice,
    /// In the hour that is left out when they go forward.
    Never,
}

/// The clocks of the plan's time zone. As in calendars (RFC 5545, 3.3.5, from memory): of a time that is shown twice the first is
/// meant; one that is never shown is taken as if the clocks had not yet gone forward.
#[derive(Clone, Copy)]
pub struct Clock(TimeZone);

impl Clock {
    /// The plan's.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        Self(plan.head.as_ref().map_or(TimeZone::UTC, |head| head.time_zone.value))
    }

    /// Those of a time zone.
    #[must_use]
    pub const fn in_zone(zone: TimeZone) -> Self {
        Self(zone)
    }

    /// When it is that time here.
    #[must_use]
    pub fn instant(self, time: LocalTime) -> Instant {
        let local = seconds(time.as_naive());
        let ahead = match self.0.shown(local) {
            ShownTime::Once(ahead) | ShownTime::Twice(ahead) => ahead,
            ShownTime::Never => self.0.ahead_at(local - DAY),
        };
        Instant((local - ahead).div_euclid(60))
    }

    /// When a day begins here.
    #[must_use]
    pub fn begins(self, day: Day) -> Instant {
        self.instant(LocalTime::of(day.as_date().and_time(chrono::NaiveTime::MIN)))
    }

    /// The day on which it lies here.
    #[must_use]
    pub fn day(self, at: Instant) -> Day {
        Day::from_date(self.local(at).as_naive().date())
    }

    /// The last day of a period here: one that ends at midnight does not reach the day that begins then.
    #[must_use]
    pub fn last_day(self, period: Period) -> Day {
        self.day(Instant(period.to.0.saturating_sub(1)))
    }

    /// By how many minutes clocks here are ahead of UTC when they show a time.
    #[must_use]
    pub fn ahead(self, time: LocalTime) -> i64 {
        seconds(time.as_naive()).div_euclid(60) - self.instant(time).0
    }

    /// How often clocks here show a time.
    #[must_use]
    pub fn shown(self, time: LocalTime) -> Shown {
        match self.0.shown(seconds(time.as_naive())) {
            ShownTime::Once(_) => Shown::Once,
            ShownTime::Twice(_) => Shown::Twice,
            ShownTime::Never => Shown::Never,
        }
    }

    /// What clocks here show.
    #[must_use]
    pub fn local(self, at: Instant) -> LocalTime {
        let utc = at.0.saturating_mul(60);
        let shown = |seconds| DateTime::from_timestamp(seconds, 0);
        let local = shown(utc.saturating_add(self.0.ahead_at(utc))).or_else(|| shown(utc));
        LocalTime::of(local.unwrap_or_default().naive_utc())
    }

    /// `2026-12-05 06:00 to 08:00`; the second day is said where it is another one.
    #[must_use]
    pub fn words(self, period: Period) -> String {
        let (from, to) = (self.local(period.from).to_string(), self.local(period.to).to_string());
        let day = from.split_once(' ').map_or("", |(day, _)| day);
        let to = to.strip_prefix(day).map_or(to.as_str(), str::trim_start);
        format!("{from} to {to}")
    }
}

/// A day, in seconds.
const DAY: i64 = 86_400;

fn seconds(time: NaiveDateTime) -> i64 {
    time.and_utc().timestamp()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test fails by panicking")]
mod tests {
    use super::{Clock, Period, Shown};
    use crate::ground::TimeZone;
    use crate::plan::LocalTime;

    fn time(text: &str) -> LocalTime {
        LocalTime::parse(text).unwrap()
    }

    /// Denver, 2027: forward on March 14 at 02:00, back on November 7 at 02:00.
    #[test]
    fn a_night_with_a_change_of_the_clocks_is_as_long_as_it_is() {
        let clock = Clock(TimeZone::named("America/Denver").unwrap());
        let length = |from, to| clock.instant(time(from)).minutes_to(clock.instant(time(to)));
        assert_eq!(length("2027-03-13 18:00", "2027-03-14 06:00"), 11 * 60);
        assert_eq!(length("2027-11-06 18:00", "2027-11-07 06:00"), 13 * 60);
        assert_eq!(length("2027-01-16 18:00", "2027-01-17 06:00"), 12 * 60);
        // The hour that is left out lies on the one after it; the hour that comes twice is its first.
        assert_eq!(length("2027-03-14 02:30", "2027-03-14 03:30"), 0);
        assert_eq!(length("2027-11-07 01:30", "2027-11-07 02:30"), 2 * 60);
    }

    #[test]
    fn times_that_clocks_never_or_twice_show_are_told_from_others() {
        let clock = Clock(TimeZone::named("America/Denver").unwrap());
        let shown = |text| clock.shown(time(text));
        assert_eq!(shown("2027-03-14 01:59"), Shown::Once);
        assert_eq!(shown("2027-03-14 02:00"), Shown::Never);
        assert_eq!(shown("2027-03-14 03:00"), Shown::Once);
        assert_eq!(shown("2027-11-07 01:00"), Shown::Twice);
        assert_eq!(shown("2027-11-07 02:00"), Shown::Once);
    }

    #[test]
    fn a_period_says_its_second_day_only_where_it_is_another() {
        let clock = Clock(TimeZone::named("America/Denver").unwrap());
        let words = |from, to| clock.words(Period { from: clock.instant(time(from)), to: clock.instant(time(to)) });
        assert_eq!(words("2026-12-05 06:00", "2026-12-05 08:00"), "2026-12-05 06:00 to 08:00");
        assert_eq!(words("2026-12-05 18:00", "2026-12-06 06:00"), "2026-12-05 18:00 to 2026-12-06 06:00");
        assert_eq!(words("2027-03-14 02:30", "2027-03-14 06:00"), "2027-03-14 03:30 to 06:00");
    }

    /// The first and last days that can be written are no trouble.
    #[test]
    fn times_at_the_end_of_the_calendar_come_back() {
        for zone in ["Pacific/Kiritimati", "Pacific/Niue"] {
            let clock = Clock(TimeZone::named(zone).unwrap());
            for text in ["9999-12-31 23:59", "0001-01-02 00:00"] {
                let _ = clock.local(clock.instant(time(text)));
            }
            assert_eq!(clock.local(clock.instant(time("9999-12-31 12:00"))), time("9999-12-31 12:00"));
        }
    }
}
