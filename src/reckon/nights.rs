//! Nights that somebody stands: a night is that of the day in whose small hours it lies.

use crate::ground::Day;
use crate::plan::{Clock, LocalTime, Period};
use std::collections::BTreeMap;

/// Minutes of duty between midnight and six, by the clocks there, from which on it is a night (common practice, no source).
const LEAST: i64 = 120;
/// A duty of more days than a year is none that somebody stands.
const MOST_DAYS: usize = 366;

impl Clock {
    /// The days between whose midnight and six o'clock somebody stands for two hours at least, in one duty or in several; minutes of
    /// two duties at once count once.
    #[must_use]
    pub fn nights(self, periods: &[Period]) -> Vec<Day> {
        let mut minutes: BTreeMap<Day, i64> = BTreeMap::new();
        for period in joined(periods) {
            let last = self.day(period.to);
            let mut day = self.day(period.from);
            for _ in 0..MOST_DAYS {
                let shared = period.shared(self.small_hours(day)).map_or(0, |both| both.from.minutes_to(both.to));
                *minutes.entry(day).or_default() += shared;
                let Some(next) = day.as_date().succ_opt().filter(|_| day < last) else { break };
                day = Day::from_date(next);
            }
        }
        minutes.into_iter().filter(|(_, minutes)| *minutes >= LEAST).map(|(day, _)| day).collect()
    }

    /// From midnight to six by the clocks there: five hours of a night in which they go forward, seven in which they go back.
    #[must_use]
    pub fn small_hours(self, day: Day) -> Period {
        let six = day.as_date().and_hms_opt(6, 0, 0).map(|six| self.instant(LocalTime::of(six)));
        let begins = self.begins(day);
        Period { from: begins, to: six.unwrap_or_else(|| begins.after(6 * 60)) }
    }
}

/// The same minutes without any twice, in order of time.
fn joined(periods: &[Period]) -> Vec<Period> {
    let mut sorted = periods.to_vec();
    sorted.sort();
    let mut joined: Vec<Period> = Vec::new();
    for period in sorted {
        match joined.last_mut() {
            Some(last) if period.from <= last.to => last.to = last.to.max(period.to),
            _ => joined.push(period),
        }
    }
    joined
}

/// Nights in order of time, parted where one is missing between them.
#[must_use]
pub fn night_runs(nights: &[Day]) -> Vec<&[Day]> {
    let follows = |before: &Day, day: &Day| before.as_date().succ_opt() == Some(day.as_date());
    nights.chunk_by(follows).collect()
}

/// The most of these, in order of time, that follow each other day by day.
#[must_use]
pub fn nights_in_a_row(nights: &[Day]) -> usize {
    night_runs(nights).into_iter().map(<[Day]>::len).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{night_runs, nights_in_a_row};
    use crate::ground::Day;

    #[test]
    fn nights_that_follow_each_other_are_counted_over_the_end_of_a_month() {
        let day = |text: &str| Day::parse(text).unwrap();
        let nights = ["2027-01-30", "2027-01-31", "2027-02-01", "2027-02-03"].map(day);
        assert_eq!(nights_in_a_row(&nights), 3);
        assert_eq!(night_runs(&nights).len(), 2);
        assert_eq!(nights_in_a_row(&[]), 0);
        assert_eq!(nights_in_a_row(&[day("2027-01-30")]), 1);
    }
}
