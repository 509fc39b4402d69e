//! The plan's clock: local times as instants, so that a night in which the clocks change is as long as it is.

use super::notations::LocalTime;
use super::records::Plan;
use crate::ground::{Day, ShownTime, TimeZone};
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

/// A change of the clocks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ClockChange {
    /// What they would show then, had they not been changed.
    pub from: LocalTime,
    /// What they show.
    pub to: LocalTime,
}

/// The clocks of the plan's time zone. As in calendars (RFC 5545, 3.3.5, from memory): of a time that is shown twice the first is
/// meant, unless it is written with its offset; one that is never shown is taken as if the clocks had not yet gone forward. What is printed
/// of a time is what clocks show at its instant: written and read times are told by `moment` and `time`.
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
        let [first, second] = self.0.ahead_when(local);
        // An offset that is not in force then is a finding of its own, and read as if it were not there.
        let is_written = |ahead: &i64| time.ahead().is_some_and(|written| written * 60 == *ahead);
        let ahead = second.filter(is_written).or(first).or(second).unwrap_or_else(|| self.0.ahead_at(local - DAY));
        Instant((local - ahead).div_euclid(60))
    }

    /// From one time here to another.
    #[must_use]
    pub fn period(self, from: LocalTime, to: LocalTime) -> Period {
        Period { from: self.instant(from), to: self.instant(to) }
    }

    /// Whether the offset that is written with a time is that of the clocks here then; so it is where none is written.
    #[must_use]
    pub fn has_offset(self, time: LocalTime) -> bool {
        let when = self.0.ahead_when(seconds(time.as_naive()));
        time.ahead().is_none_or(|written| when.into_iter().flatten().any(|ahead| ahead == written * 60))
    }

    /// Each instant at which clocks here show a time, whatever offset is written with it.
    #[must_use]
    pub fn readings(self, time: LocalTime) -> Vec<Instant> {
        let local = seconds(time.as_naive());
        self.0.ahead_when(local).into_iter().flatten().map(|ahead| Instant((local - ahead).div_euclid(60))).collect()
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

    /// How often clocks here show a time: one with its offset is told from the other.
    #[must_use]
    pub fn shown(self, time: LocalTime) -> Shown {
        if time.ahead().is_some() {
            return Shown::Once;
        }
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

    /// The same with the offset that tells it from any other.
    #[must_use]
    pub fn with_offset(self, at: Instant) -> LocalTime {
        let local = self.local(at);
        local.with_ahead(seconds(local.as_naive()).div_euclid(60) - at.0)
    }

    /// As it would be typed: with its offset where clocks show the time twice.
    #[must_use]
    pub fn written(self, at: Instant) -> LocalTime {
        if self.which(at).is_some() { self.with_offset(at) } else { self.local(at) }
    }

    /// Which of two it is, where clocks here show the same time twice: what the time is called there, as `CST`, else `first` or `second`.
    #[must_use]
    pub fn which(self, at: Instant) -> Option<Which> {
        let utc = at.0.saturating_mul(60);
        let own = self.0.ahead_at(utc);
        let local = utc.saturating_add(own);
        let [Some(first), Some(second)] = self.0.ahead_when(local) else { return None };
        let [of_first, of_second] = [first, second].map(|ahead| self.0.letters_at(local - ahead));
        Some(match (of_first.zip(of_second).filter(|(one, other)| one != other), own == first) {
            (Some((letters, _)), true) | (Some((_, letters)), false) => Which::Letters(letters),
            (None, true) => Which::Word("first"),
            (None, false) => Which::Word("second"),
        })
    }

    /// What is printed of a time of day: `01:15`; `01:15 CST` or `01:15 (second)` where clocks show it twice.
    #[must_use]
    pub fn time(self, at: Instant) -> String {
        let time = self.local(at).as_naive().format("%H:%M");
        match self.which(at) {
            None => time.to_string(),
            Some(Which::Letters(letters)) => format!("{time} {letters}"),
            Some(Which::Word(word)) => format!("{time} ({word})"),
        }
    }

    /// The same with what UTC says then, where clocks show it twice: `01:15 CST (07:15 UTC)`.
    #[must_use]
    pub fn time_and_utc(self, at: Instant) -> String {
        let utc = at.utc().as_naive().format("%H:%M");
        match self.which(at) {
            None => self.time(at),
            Some(Which::Letters(_)) => format!("{} ({utc} UTC)", self.time(at)),
            Some(Which::Word(word)) => format!("{} ({word}, {utc} UTC)", self.local(at).as_naive().format("%H:%M")),
        }
    }

    /// What is printed of a time: `2027-11-07 01:15 CST (07:15 UTC)`, `2026-12-05 06:00`.
    #[must_use]
    pub fn moment(self, at: Instant) -> String {
        format!("{} {}", self.day(at), self.time_and_utc(at))
    }

    /// `2026-12-05 06:00 to 08:00`; the second day is said where it is another one.
    #[must_use]
    pub fn words(self, period: Period) -> String {
        let to = match self.day(period.from) == self.day(period.to) {
            true => self.time_and_utc(period.to),
            false => self.moment(period.to),
        };
        format!("{} to {to}", self.moment(period.from))
    }

    /// The changes of the clocks within a period, in order of time: those of its first 400 days, in which each kind of change comes.
    #[must_use]
    pub fn changes(self, period: Period) -> Vec<ClockChange> {
        let ahead = |at: i64| self.0.ahead_at(at.saturating_mul(60));
        let end = period.to.0.min(period.from.0.saturating_add(400 * 24 * 60)).saturating_sub(1);
        let (mut changes, mut at) = (Vec::new(), period.from.0);
        while at < end {
            let next = at.saturating_add(24 * 60).min(end);
            if ahead(at) == ahead(next) {
                at = next;
                continue;
            }
            // The first minute of the new time lies behind `at`, and not behind `new`.
            let (mut old, mut new) = (at, next);
            while new - old > 1 {
                let middle = old + (new - old) / 2;
                *(if ahead(middle) == ahead(at) { &mut old } else { &mut new }) = middle;
            }
            let to = self.local(Instant(new));
            changes.push(ClockChange { from: self.local(Instant(old)).a_minute_later(), to });
            at = new;
        }
        changes
    }
}

/// Which of two times that clocks show alike.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Which {
    /// What the time is called there.
    Letters(&'static str),
    /// `first` or `second`.
    Word(&'static str),
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

    /// By hand: the clocks of Chicago go back on 2027-11-07 at 02:00 CDT (07:00 UTC) to 01:00 CST; those of Lord Howe, which have no
    /// letters, on 2027-04-04 at 02:00 (+11:00) to 01:30 (+10:30).
    #[test]
    fn of_a_time_that_comes_twice_it_is_told_which_it_is() {
        let clock = Clock(TimeZone::named("America/Chicago").unwrap());
        let at = |text| clock.instant(time(text));
        assert_eq!(clock.moment(at("2027-11-07 00:59")), "2027-11-07 00:59");
        assert_eq!(clock.moment(at("2027-11-07 01:15")), "2027-11-07 01:15 CDT (06:15 UTC)");
        assert_eq!(clock.moment(at("2027-11-07 01:15-05:00")), "2027-11-07 01:15 CDT (06:15 UTC)");
        assert_eq!(clock.moment(at("2027-11-07 01:15-06:00")), "2027-11-07 01:15 CST (07:15 UTC)");
        assert_eq!(clock.time(at("2027-11-07T01:59:00-06:00")), "01:59 CST");
        assert_eq!(clock.time(at("2027-11-07 02:00")), "02:00");
        let period = clock.period(time("2027-11-07 01:15-06:00"), time("2027-11-07 12:00"));
        assert_eq!(clock.words(period), "2027-11-07 01:15 CST (07:15 UTC) to 12:00");
        assert_eq!(clock.with_offset(period.from).to_string(), "2027-11-07 01:15-06:00");
        let readings = clock.readings(time("2027-11-07 01:30"));
        assert_eq!(readings, [at("2027-11-07 01:30-05:00"), at("2027-11-07 01:30-06:00")]);
        assert_eq!(clock.readings(time("2028-03-12 02:30")), []);
        let clock = Clock(TimeZone::named("Australia/Lord_Howe").unwrap());
        let told = |text| clock.moment(clock.instant(time(text)));
        assert_eq!(told("2027-04-04 01:45"), "2027-04-04 01:45 (first, 14:45 UTC)");
        assert_eq!(told("2027-04-04 01:45+10:30"), "2027-04-04 01:45 (second, 15:15 UTC)");
        assert_eq!(clock.time(clock.instant(time("2027-04-04 01:45+10:30"))), "01:45 (second)");
    }

    #[test]
    fn the_changes_of_a_period_are_told_with_both_times() {
        let clock = Clock(TimeZone::named("America/Chicago").unwrap());
        let changes = |from, to| -> Vec<(String, String)> {
            let all = clock.changes(clock.period(time(from), time(to))).into_iter();
            all.map(|change| (change.from.to_string(), change.to.to_string())).collect()
        };
        let back = ("2027-11-07 02:00".to_owned(), "2027-11-07 01:00".to_owned());
        let forward = ("2028-03-12 02:00".to_owned(), "2028-03-12 03:00".to_owned());
        assert_eq!(changes("2027-11-06 23:45", "2027-11-07 11:00"), std::slice::from_ref(&back));
        assert_eq!(changes("2027-11-07 01:59-05:00", "2027-11-07 01:01-06:00"), std::slice::from_ref(&back));
        assert_eq!(changes("2027-11-07 01:00-06:00", "2027-11-07 11:00"), []);
        assert_eq!(changes("2027-11-06 12:00", "2027-11-07 01:00-06:00"), []);
        assert_eq!(changes("2027-10-01 12:00", "2028-06-01 01:00"), [back, forward]);
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
