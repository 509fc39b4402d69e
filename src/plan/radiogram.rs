//! What the preamble of a radiogram says, as values: precedence, handling, check, time filed and date.
//!
//! After the precedences and handling instructions of the ARRL (second-hand), with the check from memory.

use crate::ground::Refusal;
use crate::source::{Node, Reading, Schemas, Value, Written, text_values};
use chrono::{Datelike, NaiveDate, NaiveTime, Timelike};
use std::fmt;

text_values! {
    Precedence, "Precedence", "a precedence", "Routine", Self::refuse_number;
    Handling, "Handling", "a handling instruction", "HXC", Self::refuse_number;
    FiledTime, "FiledTime", "a time with its zone", "0215Z", Self::refuse_number;
    MonthDay, "MonthDay", "a month and a day", "JUL 13", Self::refuse_number;
}

/// The words that mark a message as no real one.
const DRILL: [&str; 2] = ["TEST", "EXERCISE"];

/// How urgent a message is, with the word that marks it as no real one where it has one: `TEST Routine`, `Routine EXERCISE`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Precedence {
    /// `TEST` or `EXERCISE`.
    pub drill: Option<&'static str>,
    /// The precedence as written.
    pub word: String,
}

impl Precedence {
    /// Reads a precedence, with a word for an exercise before or after it.
    ///
    /// # Errors
    /// When nothing stands beside that word.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let is_drill = |word: &str| DRILL.into_iter().find(|own| own.eq_ignore_ascii_case(word));
        let words: Vec<&str> = text.split_whitespace().collect();
        let drill = [words.first(), words.last()].into_iter().flatten().find_map(|word| is_drill(word));
        let rest: Vec<&str> = words.into_iter().filter(|word| is_drill(word).is_none()).collect();
        if rest.is_empty() {
            return Err(Refusal::new(format!("\"{text}\" is not a precedence")).help("write it as \"Routine\""));
        }
        Ok(Self { drill, word: rest.join(" ") })
    }

    /// Which of a scale, highest first, it is. The highest is always spelled out, the others may be their first letter.
    #[must_use]
    pub fn of_scale<'a>(&self, scale: &'a [String]) -> Option<(usize, &'a str)> {
        let is_own = |(place, word): &(usize, &String)| {
            let is_letter = *place > 0 && self.word.chars().count() == 1;
            word.eq_ignore_ascii_case(&self.word)
                || is_letter
                    && word.chars().next().is_some_and(|first| self.word.eq_ignore_ascii_case(&first.to_string()))
        };
        scale.iter().enumerate().find(is_own).map(|(place, word)| (place, word.as_str()))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a precedence is wanted"))
            .help("write it as \"Routine\"")
    }
}

impl fmt::Display for Precedence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.drill.map_or(Ok(()), |word| write!(f, "{word} "))?;
        f.write_str(&self.word)
    }
}

/// A handling instruction with what belongs to it: `HXC`, `HXB 4`, `HXF JUL 15`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Handling {
    letter: char,
    with: String,
}

/// Letters with what is written behind them, and what they ask for.
const HANDLING: [(char, With, &str); 7] = [
    (
        'A',
        With::MayNumber,
        "collect delivery is authorized by the addressee within so many miles; without a number, anywhere",
    ),
    ('B', With::Number, "cancel if not delivered within so many hours of filing, and tell the station of origin"),
    ('C', With::Nothing, "report day and time of delivery to the station of origin"),
    ('D', With::Nothing, "report from whom it was received and to whom it was relayed, or its delivery"),
    ('E', With::Nothing, "get a reply from the addressee"),
    ('F', With::Date, "hold delivery until a date"),
    ('G', With::Nothing, "no toll call and no mail: cancel where it would cost, and tell the station of origin"),
];

/// What stands behind the letter of a handling instruction.
#[derive(Clone, Copy, PartialEq, Eq)]
enum With {
    Nothing,
    MayNumber,
    Number,
    Date,
}

impl Handling {
    /// Reads one.
    ///
    /// # Errors
    /// When the letter is none of A to G, or what stands behind it is not what it takes.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let upper = text.trim().to_ascii_uppercase();
        let rest = upper.strip_prefix("HX").unwrap_or("");
        let letter = rest.chars().next();
        let known = HANDLING.iter().find(|(own, _, _)| Some(*own) == letter);
        let Some((letter, takes, _)) = known else {
            let refusal = Refusal::new(format!("\"{text}\" is not a handling instruction"));
            return Err(refusal.help("write one of HXA to HXG: \"HXC\", \"HXB 4\", \"HXF JUL 15\""));
        };
        let with = rest.get(1..).unwrap_or("").trim().to_owned();
        let number = with.parse::<u16>().ok().filter(|number| (1..=999).contains(number));
        let (is_right, help) = match takes {
            With::Nothing => (with.is_empty(), format!("write \"HX{letter}\" alone")),
            With::MayNumber => (with.is_empty() || number.is_some(), "write it as \"HXA 50\", in miles".to_owned()),
            With::Number => (number.is_some(), "write it as \"HXB 4\", in hours from filing".to_owned()),
            With::Date => (MonthDay::parse(&with).is_ok(), "write it as \"HXF JUL 15\"".to_owned()),
        };
        if is_right {
            return Ok(Self { letter: *letter, with });
        }
        let what = if with.is_empty() { "nothing".to_owned() } else { format!("\"{with}\"") };
        Err(Refusal::new(format!("HX{letter} is followed by {what}")).help(help))
    }

    /// Whether it counts from the time filed.
    #[must_use]
    pub const fn counts_from_filing(&self) -> bool {
        self.letter == 'B'
    }

    /// What it asks for.
    #[must_use]
    pub fn meaning(&self) -> &'static str {
        HANDLING.iter().find(|(own, _, _)| *own == self.letter).map_or("", |(_, _, meaning)| meaning)
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a handling instruction is wanted"))
            .help("write it as \"HXC\"")
    }
}

impl fmt::Display for Handling {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "HX{}", self.letter)?;
        if self.with.is_empty() { Ok(()) } else { write!(f, " {}", self.with) }
    }
}

/// The count of the text, as it is sent: `15`, or `ARL 6` where a numbered text is used.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct WordCheck {
    /// Whether a numbered text is used.
    pub is_arl: bool,
    /// Words of the text.
    pub count: usize,
}

impl fmt::Display for WordCheck {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", if self.is_arl { "ARL " } else { "" }, self.count)
    }
}

impl Written for WordCheck {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let text = match &node.value {
            Value::Integer(number) => number.to_string(),
            Value::Text(text) | Value::Field(text) => text.trim().to_ascii_uppercase(),
            _ => String::new(),
        };
        let (is_arl, number) = text.strip_prefix("ARL").map_or((false, text.as_str()), |rest| (true, rest.trim()));
        let count = number.parse::<usize>().ok().filter(|count| (1..=999).contains(count));
        if count.is_none() {
            let refusal = Refusal::new("a check is the number of words of the text, from 1 to 999");
            of.refuse(node.span, refusal.help("write it as 15 or, with a numbered text, \"ARL 6\""));
        }
        Some(Self { is_arl, count: count? })
    }
    fn schema(schemas: &mut Schemas) -> serde_json::Value {
        schemas.text("Check", "the number of words of the text, behind ARL where a numbered text is used", "ARL 6")
    }
    fn plain(node: &Node) -> Node {
        crate::source::plain_number(node)
    }
}

/// Zones as radiograms name them, with the minutes by which their clocks are ahead of UTC: abbreviations of the time zone database.
const ZONES: [(&str, i64); 16] = [
    ("Z", 0),
    ("UTC", 0),
    ("AST", -240),
    ("EDT", -240),
    ("EST", -300),
    ("CDT", -300),
    ("CST", -360),
    ("MDT", -360),
    ("MST", -420),
    ("PDT", -420),
    ("PST", -480),
    ("AKDT", -480),
    ("AKST", -540),
    ("HST", -600),
    ("CET", 60),
    ("CEST", 120),
];

/// The time at which a message was filed, with its zone: `0215Z`, `2215 EDT`. Without a zone it is UTC.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FiledTime {
    time: NaiveTime,
    zone: &'static str,
    ahead: i64,
}

impl FiledTime {
    /// Reads one.
    ///
    /// # Errors
    /// When it is no time of day, or the zone is not known.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let upper = text.trim().to_ascii_uppercase();
        let (figures, zone) = upper.split_at(upper.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(upper.len()));
        let figures: String = figures.chars().filter(|c| !c.is_whitespace() && *c != ':').collect();
        let zone = if zone.is_empty() { "Z" } else { zone };
        let known = ZONES.iter().find(|(own, _)| *own == zone);
        let is_whole = figures.len() == 4 && figures.bytes().all(|byte| byte.is_ascii_digit());
        let time = is_whole.then(|| NaiveTime::parse_from_str(&figures, "%H%M").ok()).flatten();
        let Some(time) = time else {
            let refusal = Refusal::new(format!("\"{text}\" is not a time with its zone"));
            return Err(
                refusal.help("write it in four figures, from 0000 to 2359, with its zone: \"0215Z\", \"2215 EDT\"")
            );
        };
        let Some((zone, ahead)) = known else {
            let all: Vec<&str> = ZONES.iter().map(|(own, _)| *own).collect();
            let refusal = Refusal::new(format!("\"{zone}\" is not a zone that a radiogram names"));
            return Err(refusal.help(format!("write UTC, as \"0215Z\", or one of {}", all.join(", "))));
        };
        Ok(Self { time, zone, ahead: *ahead })
    }

    /// Whether it is by UTC.
    #[must_use]
    pub fn is_utc(self) -> bool {
        matches!(self.zone, "Z" | "UTC")
    }

    /// What clocks of its zone show `minutes` after 1970 began by UTC: the time as it would be filed then, and the day. None at the end
    /// of the calendar.
    #[must_use]
    pub fn at(self, minutes: i64) -> Option<(Self, MonthDay)> {
        let shown = chrono::DateTime::from_timestamp(minutes.checked_add(self.ahead)?.checked_mul(60)?, 0)?.naive_utc();
        Some((Self { time: shown.time(), ..self }, MonthDay::of(shown.date())))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} has no zone")).help("write it with its zone: \"0215Z\"")
    }
}

impl fmt::Display for FiledTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.zone == "Z" { "" } else { " " };
        write!(f, "{:02}{:02}{gap}{}", self.time.hour(), self.time.minute(), self.zone)
    }
}

/// Months as radiograms write them.
const MONTHS: [&str; 12] = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"];

/// A month and a day: `JUL 13`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct MonthDay {
    month: u32,
    day: u32,
}

impl MonthDay {
    /// Reads one.
    ///
    /// # Errors
    /// When there is no such day in a leap year.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let refuse = || Refusal::new(format!("\"{text}\" is not a month and a day")).help("write it as \"JUL 13\"");
        let upper = text.trim().to_ascii_uppercase();
        let (month, day) = upper.split_once(' ').ok_or_else(refuse)?;
        let month = (1..).zip(MONTHS).find(|(_, own)| *own == month).map(|(number, _)| number).ok_or_else(refuse)?;
        let day = day.trim().parse().ok().ok_or_else(refuse)?;
        // Without a year February may have 29 days.
        NaiveDate::from_ymd_opt(2028, month, day).map(Self::of).ok_or_else(refuse)
    }

    fn of(date: NaiveDate) -> Self {
        Self { month: date.month(), day: date.day() }
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a month and a day are wanted"))
            .help("write it as \"JUL 13\"")
    }
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let month = (1..).zip(MONTHS).find(|(number, _)| *number == self.month).map_or("", |(_, word)| word);
        write!(f, "{month} {}", self.day)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test fails by panicking")]
mod tests {
    use super::{FiledTime, Handling, MonthDay, Precedence};

    #[test]
    fn handling_instructions_take_what_belongs_to_them() {
        for right in ["HXA", "HXA 50", "HXB 4", "HXC", "HXD", "HXE", "HXF JUL 15", "HXG"] {
            assert_eq!(Handling::parse(right).unwrap().to_string(), right);
        }
        for wrong in ["HXB", "HXB JUL 15", "HXC 4", "HXF", "HXF 4", "HXH", "HX", "C", "HXB 0", "HXF FEB 30", "HXÄ"] {
            assert!(Handling::parse(wrong).is_err(), "{wrong}");
        }
    }

    /// 0215Z JUL 13 = 2215 EDT JUL 12: the ARRL's own example, second-hand. 2026-07-13 is day 20 647 since 1970: 02:15 UTC is minute 29 731 815.
    #[test]
    fn one_moment_has_the_date_of_its_zone() {
        let at = |zone: &str| FiledTime::parse(zone).unwrap().at(29_731_815).unwrap();
        let (utc, eastern) = (at("0000Z"), at("0000 EDT"));
        assert_eq!((utc.0.to_string(), utc.1.to_string()), ("0215Z".to_owned(), "JUL 13".to_owned()));
        assert_eq!((eastern.0.to_string(), eastern.1.to_string()), ("2215 EDT".to_owned(), "JUL 12".to_owned()));
        for wrong in ["2500Z", "-100Z", "0260Z", "215Z", "0215 XYZ", "", "+215Z"] {
            assert!(FiledTime::parse(wrong).is_err(), "{wrong}");
        }
        assert_eq!(MonthDay::parse("jul 13").unwrap().to_string(), "JUL 13");
        assert!(
            MonthDay::parse("FEB 29").is_ok() && MonthDay::parse("FEB 30").is_err() && MonthDay::parse("13").is_err()
        );
    }

    #[test]
    fn the_highest_precedence_is_spelled_out() {
        let scale = ["Emergency", "Priority", "Welfare", "Routine"].map(str::to_owned);
        let place = |text: &str| Precedence::parse(text).unwrap().of_scale(&scale).map(|(place, _)| place);
        assert_eq!(
            [place("EMERGENCY"), place("E"), place("P"), place("TEST R"), place("Welfare EXERCISE")],
            [Some(0), None, Some(1), Some(3), Some(2)]
        );
        assert_eq!(place("Immediate"), None);
        assert!(Precedence::parse("TEST").is_err());
    }
}
