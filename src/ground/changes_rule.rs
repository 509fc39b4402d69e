//! The rule by which the clocks of a time zone go on to change, as POSIX writes it in the variable `TZ`: `MST7MDT,M3.2.0,M11.1.0`.
//!
//! From POSIX.1-2017, 8.3, and RFC 9636, which lets hours run from -167 to 167 (from memory; a test compares what comes of every rule of
//! the database with another reader of it).

use chrono::{Datelike, NaiveDate};

/// By how many seconds clocks are ahead of UTC, and in which part of the year by how many others.
#[derive(Clone, Copy)]
pub(super) struct ChangesRule {
    usual: i64,
    /// What the usual time is called.
    letters: &'static str,
    summer: Option<Summer>,
}

#[derive(Clone, Copy)]
struct Summer {
    ahead: i64,
    letters: &'static str,
    begins: YearDay,
    ends: YearDay,
}

/// A day of each year, and the second of it by the clocks until then.
#[derive(Clone, Copy)]
struct YearDay {
    on: On,
    second: i64,
}

#[derive(Clone, Copy)]
enum On {
    /// `M3.2.0`: a month, which of its weekdays, five being the last, and the weekday from Sunday.
    Weekday { month: u32, nth: u32, weekday: u32 },
    /// `J60`: counted from one, the last of February never among them.
    WithoutLeapDay(i64),
    /// `59`: counted from none.
    WithLeapDay(i64),
}

impl ChangesRule {
    /// None where the text is no such rule.
    pub(super) fn parse(text: &'static str) -> Option<Self> {
        let mut rest = text;
        let letters = name(&mut rest)?;
        let usual = -seconds(&mut rest)?;
        if rest.is_empty() {
            return Some(Self { usual, letters, summer: None });
        }
        let of_summer = name(&mut rest)?;
        let ahead = if rest.starts_with(',') { usual + 3600 } else { -seconds(&mut rest)? };
        let (begins, ends) = rest.strip_prefix(',')?.split_once(',')?;
        let summer = Summer { ahead, letters: of_summer, begins: YearDay::parse(begins)?, ends: YearDay::parse(ends)? };
        Some(Self { usual, letters, summer: Some(summer) })
    }

    /// By how many seconds clocks are ahead of UTC at a time: in seconds after 1970 began there.
    pub(super) fn ahead_at(&self, utc: i64) -> i64 {
        self.summer_at(utc).map_or(self.usual, |summer| summer.ahead)
    }

    /// What the time is called then: letters, or a number where it has none.
    pub(super) fn letters_at(&self, utc: i64) -> &'static str {
        self.summer_at(utc).map_or(self.letters, |summer| summer.letters)
    }

    /// The other part of the year, where the time lies in it.
    fn summer_at(&self, utc: i64) -> Option<&Summer> {
        let summer = self.summer.as_ref()?;
        let day = i32::try_from(utc.saturating_add(self.usual).div_euclid(DAY)).ok()?;
        let year = NaiveDate::from_epoch_days(day)?.year();
        let (begins, ends) = (summer.begins.in_year(year)? - self.usual, summer.ends.in_year(year)? - summer.ahead);
        let is_summer = if begins < ends { (begins..ends).contains(&utc) } else { !(ends..begins).contains(&utc) };
        is_summer.then_some(summer)
    }
}

impl YearDay {
    fn parse(text: &str) -> Option<Self> {
        let (day, time) = text.split_once('/').unwrap_or((text, "2"));
        let mut time = time;
        let second = seconds(&mut time).filter(|_| time.is_empty())?;
        let on = match day.strip_prefix('M') {
            Some(weekday) => {
                let mut parts = weekday.split('.').map(str::parse);
                let mut next = || parts.next()?.ok();
                On::Weekday { month: next()?, nth: next()?, weekday: next()? }
            }
            None => match day.strip_prefix('J') {
                Some(day) => On::WithoutLeapDay(day.parse().ok()?),
                None => On::WithLeapDay(day.parse().ok()?),
            },
        };
        Some(Self { on, second })
    }

    /// When it comes, by the clocks until then.
    fn in_year(self, year: i32) -> Option<i64> {
        let first = |month: u32| NaiveDate::from_ymd_opt(year, month, 1);
        let day = match self.on {
            On::Weekday { month, nth, weekday } => {
                let begin = first(month)?;
                let away = (7 + weekday).checked_sub(begin.weekday().num_days_from_sunday())? % 7;
                let day = 1 + away + 7 * nth.checked_sub(1)?;
                let last = u32::from(begin.num_days_in_month());
                days(begin) + i64::from(if day > last { day - 7 } else { day }) - 1
            }
            On::WithoutLeapDay(day) => {
                let leap = i64::from(first(1)?.leap_year() && day >= 60);
                days(first(1)?) + day - 1 + leap
            }
            On::WithLeapDay(day) => days(first(1)?) + day,
        };
        Some(day * DAY + self.second)
    }
}

/// A day, in seconds.
const DAY: i64 = 86_400;

/// Days after 1970 began. Plain numbers: a large plan asks for a hundred thousand times.
fn days(day: NaiveDate) -> i64 {
    i64::from(day.to_epoch_days())
}

/// Goes past a name and gives it: letters, or anything between angle brackets.
fn name(rest: &mut &'static str) -> Option<&'static str> {
    let text: &'static str = rest;
    let end = match text.starts_with('<') {
        true => text.find('>')? + 1,
        false => text.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(text.len()),
    };
    *rest = text.get(end..).filter(|_| end > 0)?;
    text.get(..end).map(|name| name.trim_matches(['<', '>']))
}

/// Goes past a time, as `-2:30`.
fn seconds(rest: &mut &str) -> Option<i64> {
    let end = rest.find(|c: char| !matches!(c, '0'..='9' | ':' | '+' | '-')).unwrap_or(rest.len());
    let (text, behind) = rest.split_at_checked(end)?;
    *rest = behind;
    let (sign, text) = text.strip_prefix('-').map_or((1, text.trim_start_matches('+')), |text| (-1, text));
    let mut seconds = 0;
    for (part, worth) in text.split(':').zip([3600, 60, 1]) {
        seconds += part.parse::<u16>().ok().map(i64::from)? * worth;
    }
    Some(sign * seconds)
}
