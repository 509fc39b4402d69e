//! What the plan format writes by rules of its own: inputs, simplex and send frequencies, widths, subjects of waivers, times.

use crate::ground::{Frequency, Id, Refusal, Shift, Width, Words};
use crate::source::text_values;
use chrono::{NaiveTime, Timelike};
use std::fmt;

text_values! {
    Simplex, "Simplex", "a frequency, or allot", "146.550 MHz", Self::refuse_number;
    RepeaterInput, "RepeaterInput", "a shift, a frequency, usual or unknown", "-600 kHz", Self::refuse_number;
    Transmit, "Transmit", "a frequency, or none", "none", Self::refuse_number;
    WidthWord, "WidthWord", "wide, narrow or a width", "narrow", Self::refuse_number;
    WaiverReason, "WaiverReason", "why it is accepted", "Assigned this way to protect Quarry", Self::refuse_number;
    WaiverSubject, "WaiverSubject", "a record as kind/id", "channel/cmd", Self::refuse_number;
    TimeOfDay, "TimeOfDay", "a time of day", "19:30", Self::refuse_number;
    LocalTime, "LocalTime", "a day and time in the plan's time zone", "2026-12-05 06:00", Self::refuse_number;
}

/// What a repeater receives, as its owner states it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RepeaterInput {
    /// From the output.
    Shift(Shift),
    /// Itself.
    Frequency(Frequency),
    /// As far from the output as is usual in the profile's band plan.
    Usual,
    /// Nobody has found out.
    Unknown,
}

impl RepeaterInput {
    /// Reads a shift (with a sign), a frequency (without), `usual` or `unknown`.
    ///
    /// # Errors
    /// When it is none of them.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.trim() == "usual" {
            return Ok(Self::Usual);
        }
        if text.trim() == "unknown" {
            return Ok(Self::Unknown);
        }
        if text.trim().starts_with(['+', '-', '\u{2212}', '0']) {
            return Shift::parse(text).map(Self::Shift);
        }
        Frequency::parse(text)
            .map(Self::Frequency)
            .map_err(|refusal| refusal.help("write a shift as \"-600 kHz\" or a frequency as \"146.340 MHz\""))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("{written} has no unit"))
            .help("write a shift as \"-600 kHz\" or a frequency as \"146.340 MHz\"")
            .bare_number()
    }
}

/// The frequency of a simplex channel.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Simplex {
    /// This.
    On(Frequency),
    /// One of a pool, still to be chosen.
    Allot,
}

impl Simplex {
    /// Reads a frequency or `allot`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.trim() == "allot" { Ok(Self::Allot) } else { Frequency::parse(text).map(Self::On) }
    }

    fn refuse_number(written: &str) -> Refusal {
        Frequency::refuse_number(written)
    }
}

/// What a radio sends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Transmit {
    /// Nothing: listen only.
    Off,
    /// This.
    On(Frequency),
}

impl Transmit {
    /// Reads a frequency or `none`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        match text.trim() {
            "none" => Ok(Self::Off),
            // What is off in a radio plan is a tone; here it is the whole of sending.
            "off" => Err(Refusal::new("\"off\" is said of tones; a channel to listen to alone sends on none")
                .help("write tx = \"none\"")),
            frequency => Frequency::parse(frequency).map(Self::On),
        }
    }

    fn refuse_number(written: &str) -> Refusal {
        Frequency::refuse_number(written)
    }
}

/// How wide a signal is, as written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WidthWord {
    /// The mode's wide form.
    Wide,
    /// The mode's narrow form.
    Narrow,
    /// This width.
    Exact(Width),
}

impl WidthWord {
    /// Reads `wide`, `narrow` or a width.
    ///
    /// # Errors
    /// When it is none of these.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        match text.trim() {
            "wide" => Ok(Self::Wide),
            "narrow" => Ok(Self::Narrow),
            other => Width::parse(other).map(Self::Exact),
        }
    }

    fn refuse_number(written: &str) -> Refusal {
        let width = Width::parse(&format!("{written} kHz")).map_or("12.5 kHz".to_owned(), |width| width.to_string());
        Refusal::new(format!("{written} has no unit")).help(format!("write wide, narrow or \"{width}\"")).bare_number()
    }
}

/// A record that a waiver names: `channel/cmd`, or `plan` and `edition`, which have no id.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct WaiverSubject {
    /// As findings write it.
    pub text: String,
}

impl WaiverSubject {
    /// Reads `kind/id`.
    ///
    /// # Errors
    /// When the part after the slash is no id.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        let is_subject =
            trimmed.split_once('/').is_some_and(|(kind, id)| Id::parse(kind).is_ok() && Id::parse(id).is_ok());
        if is_subject {
            return Ok(Self { text: trimmed.to_owned() });
        }
        Err(Refusal::new(format!("\"{trimmed}\" is not a record"))
            .help("write it as the finding does: \"channel/cmd\""))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a record is wanted"))
            .help("write it as \"channel/cmd\"")
    }
}

/// Why something is accepted. Nothing but signs, such as the dots of the record that is printed, is a finding of its own.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct WaiverReason(Words);

impl WaiverReason {
    /// Reads a text.
    ///
    /// # Errors
    /// When it is none that could be printed.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        Words::parse_any(text).map(Self)
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where text is wanted")).help("write a sentence")
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        self.0.as_str()
    }
}

impl fmt::Display for WaiverReason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A time of day in the plan's time zone, to the minute.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct TimeOfDay(NaiveTime);

impl TimeOfDay {
    /// Reads `"19:30"`, or TOML's own `19:30:00`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let time = ["%H:%M", "%H:%M:%S"].iter().find_map(|format| NaiveTime::parse_from_str(text.trim(), format).ok());
        time.map(Self).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a time of day")).help("write it as \"19:30\", local time")
        })
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a time of day is wanted")).help("write it as \"19:30\"")
    }

    /// The time.
    #[must_use]
    pub const fn as_naive(self) -> NaiveTime {
        self.0
    }

    /// So many minutes after midnight; none where that is on another day.
    #[must_use]
    pub fn of_minutes(minutes: i64) -> Option<Self> {
        let seconds = u32::try_from(minutes).ok()?.checked_mul(60)?;
        NaiveTime::from_num_seconds_from_midnight_opt(seconds, 0).map(Self)
    }

    /// Whole minutes since midnight.
    #[must_use]
    pub fn as_minutes(self) -> i64 {
        i64::from(self.0.hour() * 60 + self.0.minute())
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%H:%M"))
    }
}

/// A day and time of day in the plan's time zone, to the minute; with its offset from UTC where that is written, since clocks may show a
/// time twice.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LocalTime {
    shown: chrono::NaiveDateTime,
    /// Minutes ahead of UTC.
    ahead: Option<i16>,
}

impl LocalTime {
    /// Reads `"2026-12-05 06:00"`, or TOML's own `2026-12-05T06:00:00`; behind either, an offset as ISO 8601 writes it: `-06:00`, `Z`.
    ///
    /// # Errors
    /// When it is neither, or the offset is a day or more.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let formats = ["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M"];
        let (shown, ahead) = parted(text.trim());
        let time = formats.iter().find_map(|format| chrono::NaiveDateTime::parse_from_str(shown, format).ok());
        let ahead = ahead.map(|offset| minutes_of(offset).ok_or(offset)).transpose();
        if let Some(time) = time.filter(|time| time.second() != 0) {
            let minute = time.format("%Y-%m-%d %H:%M");
            return Err(Refusal::new(format!("\"{text}\" has seconds, and plans are read to the minute"))
                .help(format!("write it as \"{minute}\"")));
        }
        time.zip(ahead.ok()).map(|(shown, ahead)| Self { shown, ahead }).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a day and time"))
                .help("write it as \"2026-12-05 06:00\", local time")
        })
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a time is wanted"))
            .help("write it as \"2026-12-05 06:00\"")
    }

    /// What a clock shows.
    #[must_use]
    pub const fn of(shown: chrono::NaiveDateTime) -> Self {
        Self { shown, ahead: None }
    }

    /// The same, so many minutes ahead of UTC; without what is a day or more.
    #[must_use]
    pub fn with_ahead(self, minutes: i64) -> Self {
        Self { ahead: i16::try_from(minutes).ok().filter(|minutes| minutes.abs() < 24 * 60), ..self }
    }

    /// The same without its offset, a minute later.
    #[must_use]
    pub fn a_minute_later(self) -> Self {
        Self::of(self.shown.checked_add_signed(chrono::TimeDelta::minutes(1)).unwrap_or(self.shown))
    }

    /// The local time.
    #[must_use]
    pub const fn as_naive(self) -> chrono::NaiveDateTime {
        self.shown
    }

    /// By how many minutes the clocks that are meant are ahead of UTC, where that is written.
    #[must_use]
    pub fn ahead(self) -> Option<i64> {
        self.ahead.map(i64::from)
    }
}

/// A text, and the offset at its end: `2027-11-07 01:30` and `-06:00`.
fn parted(text: &str) -> (&str, Option<&str>) {
    // The hyphens of the day stand before its hour.
    let hour = text.find(':').unwrap_or(text.len());
    let sign = text.get(hour..).and_then(|rest| rest.find(['+', '-', '\u{2212}', 'Z'])).map(|at| hour + at);
    let parts = sign.and_then(|at| text.split_at_checked(at));
    parts.map_or((text, None), |(shown, offset)| (shown.trim_end(), Some(offset)))
}

/// Minutes of an offset: `-06:00`, `Z`.
fn minutes_of(offset: &str) -> Option<i16> {
    if offset == "Z" {
        return Some(0);
    }
    let (sign, rest) = match offset.strip_prefix('+') {
        Some(rest) => (1, rest),
        None => (-1, offset.strip_prefix(['-', '\u{2212}'])?),
    };
    let time = NaiveTime::parse_from_str(rest, "%H:%M").ok().filter(|_| rest.len() == 5)?;
    i16::try_from(time.hour() * 60 + time.minute()).ok().map(|minutes| sign * minutes)
}

impl fmt::Display for LocalTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.shown.format("%Y-%m-%d %H:%M"))?;
        let Some(ahead) = self.ahead else { return Ok(()) };
        let sign = if ahead < 0 { '-' } else { '+' };
        write!(f, "{sign}{:02}:{:02}", ahead.abs() / 60, ahead.abs() % 60)
    }
}
