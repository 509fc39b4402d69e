//! Values of cells as text: numbers as a spreadsheet shows them, dates as a plan writes them.

use chrono::{Days, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta};

/// A number with the fifteen digits that spreadsheets keep, in its shortest decimal: what was typed as 146.34 is stored as a number
/// beside it, and what was reckoned may lie a further step off.
pub(super) fn number(number: f64) -> String {
    let kept = format!("{number:.14e}").parse::<f64>().unwrap_or(number);
    let text = kept.to_string();
    if text == "-0" { "0".to_owned() } else { text }
}

/// A number that stands for a day and a time of day, in the system of 1900 or of 1904. None where it is none of a calendar.
pub(super) fn serial(number: f64, is_1904: bool) -> Option<String> {
    if !(0.0..2_958_466.0).contains(&number) {
        return None;
    }
    // Seconds, since nobody types less.
    let seconds = (number * 86_400.0).round();
    #[expect(clippy::cast_possible_truncation, reason = "under 2^38, as the range above says")]
    let seconds = seconds as i64;
    let (days, time) = (seconds.div_euclid(86_400), seconds.rem_euclid(86_400));
    if days == 0 && !is_1904 {
        return Some(clock(NaiveTime::MIN + TimeDelta::seconds(time)));
    }
    // The system of 1900 counts a 29 February 1900, which never was; from March on its days are those since 30 December 1899.
    let first = if is_1904 { NaiveDate::from_ymd_opt(1904, 1, 1) } else { NaiveDate::from_ymd_opt(1899, 12, 30) };
    let days = if !is_1904 && days < 60 { days + 1 } else { days };
    let day = first?.checked_add_days(Days::new(u64::try_from(days).ok()?))?;
    Some(moment(day.and_time(NaiveTime::MIN).checked_add_signed(TimeDelta::seconds(time))?))
}

/// A day, with its time where it has one.
fn moment(moment: NaiveDateTime) -> String {
    let day = moment.date().format("%Y-%m-%d");
    if moment.time() == NaiveTime::MIN { day.to_string() } else { format!("{day} {}", clock(moment.time())) }
}

fn clock(time: NaiveTime) -> String {
    let text = time.format("%H:%M:%S").to_string();
    text.strip_suffix(":00").map(str::to_owned).unwrap_or(text)
}

/// A day, or a day and time, as ISO 8601 has them; anything else as written.
pub(super) fn iso(text: &str) -> String {
    let text = text.trim().trim_end_matches('Z');
    let whole = NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M:%S%.f").or_else(|fault| {
        let day = NaiveDate::parse_from_str(text, "%Y-%m-%d");
        day.map(|day| day.and_time(NaiveTime::MIN)).map_err(|_| fault)
    });
    whole.map_or_else(|_| text.to_owned(), moment)
}

/// Whether a format of numbers shows a day or a time: it has letters of one outside of quotes, brackets and escapes.
pub(super) fn is_of_time(format: &str) -> bool {
    let mut letters = format.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => drop(letters.by_ref().find(|c| *c == '"')),
            '\\' | '_' | '*' => drop(letters.next()),
            '[' => {
                let inside: String = letters.by_ref().take_while(|c| *c != ']').collect();
                let is_elapsed = ["h", "hh", "m", "mm", "s", "ss"].contains(&inside.to_lowercase().as_str());
                if is_elapsed {
                    return true;
                }
            }
            'd' | 'D' | 'm' | 'M' | 'y' | 'Y' | 'h' | 'H' | 's' | 'S' => return true,
            // Of several formats the first is for usual numbers.
            ';' => return false,
            _ => {}
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::{is_of_time, iso, number, serial};

    #[test]
    fn numbers_are_read_as_they_are_shown() {
        let read = [146.34, 146.340_000_000_000_03, 146.94 - 0.6, 1.0, -0.0, 4_065_550_101.0, 0.6, 1e-7].map(number);
        assert_eq!(read, ["146.34", "146.34", "146.34", "1", "0", "4065550101", "0.6", "0.0000001"]);
        assert_eq!((number(f64::NAN), number(f64::INFINITY)), ("NaN".to_owned(), "inf".to_owned()));
    }

    /// Days as published for the two systems: 1 is 1 January 1900, 60 never was, 61 is 1 March 1900, 45000 is 15 March 2023.
    #[test]
    fn serial_numbers_are_days_in_both_systems() {
        let day = |number| serial(number, false).unwrap();
        assert_eq!([1.0, 59.0, 61.0, 45_000.0].map(day), ["1900-01-01", "1900-02-28", "1900-03-01", "2023-03-15"]);
        assert_eq!(serial(43_538.0, true).as_deref(), Some("2023-03-15"));
        assert_eq!([45_000.25, 45_000.333_333_333_3, 0.75].map(day), ["2023-03-15 06:00", "2023-03-15 08:00", "18:00"]);
        assert_eq!([-1.0, 3e6, f64::NAN].map(|number| serial(number, false)), [None, None, None]);
        assert_eq!(
            ["2026-12-01", "2026-12-05T08:00:00", "2026-12-05T08:00:30.000Z", "PT08H"].map(iso),
            ["2026-12-01", "2026-12-05 08:00", "2026-12-05 08:00:30", "PT08H"]
        );
    }

    #[test]
    fn formats_of_days_and_times_are_told_from_others() {
        let times = ["yyyy\\-mm\\-dd", "d/m/yy", "[h]:mm", "[$-409]d-mmm-yy;@", "hh:mm"];
        let others = ["0.000", "General", "0.000\" MHz\"", "[Red]0.00", "#,##0_d", "[$USD] 0", "0;d"];
        assert_eq!((times.map(is_of_time), others.map(is_of_time)), ([true; 5], [false; 7]));
    }
}
