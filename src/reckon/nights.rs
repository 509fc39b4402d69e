//! Nights that somebody stands: a night is that of the day in whose small hours it lies.

use super::{Clock, Period};
use crate::ground::Day;

/// Minutes of duty between midnight and six, by the clocks there, from which on it is a night (common practice, no source).
const LEAST: i64 = 120;

impl Clock {
    /// The days in whose first six hours a period has two hours at least.
    #[must_use]
    pub fn nights(self, period: Period) -> Vec<Day> {
        let last = self.day(period.to);
        let mut nights = Vec::new();
        let mut day = self.day(period.from);
        // A duty of more days than a year is none that somebody stands.
        for _ in 0..366 {
            let begins = self.begins(day);
            let night = Period { from: begins, to: begins.after(6 * 60) };
            let shared = period.shared(night).map_or(0, |both| both.from.minutes_to(both.to));
            nights.extend((shared >= LEAST).then_some(day));
            let Some(next) = day.as_date().succ_opt().filter(|_| day < last) else { break };
            day = Day::from_date(next);
        }
        nights
    }
}

/// The most of these that follow each other day by day.
#[must_use]
pub fn nights_in_a_row(mut nights: Vec<Day>) -> usize {
    nights.sort_unstable();
    nights.dedup();
    let (mut most, mut run, mut before) = (0, 0, None::<Day>);
    for night in nights {
        let follows = before.and_then(|before| before.as_date().succ_opt()) == Some(night.as_date());
        run = if follows { run + 1 } else { 1 };
        most = most.max(run);
        before = Some(night);
    }
    most
}

#[cfg(test)]
mod tests {
    use super::nights_in_a_row;
    use crate::ground::Day;

    #[test]
    fn nights_that_follow_each_other_are_counted_over_the_end_of_a_month() {
        let day = |text: &str| Day::parse(text).unwrap();
        let nights = ["2027-01-30", "2027-01-31", "2027-02-01", "2027-02-03", "2027-01-31"].map(day);
        assert_eq!(nights_in_a_row(nights.to_vec()), 3);
        assert_eq!(nights_in_a_row(Vec::new()), 0);
        assert_eq!(nights_in_a_row(vec![day("2027-01-30")]), 1);
    }
}
