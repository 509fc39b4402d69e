//! Text to print, and dates.

use super::Refusal;
use chrono::NaiveDate;
use std::fmt;

/// Text that will be printed: no control characters, none that is not seen, no space at its ends, 400 characters at most.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Words(String);

impl Words {
    /// Most characters: a paragraph of a card. What does not fit its box is a finding of its own.
    pub const LONGEST: usize = 400;

    /// Reads a text.
    ///
    /// # Errors
    /// When it is empty, too long, has no letter or figure, or holds control characters, characters that are not seen or spaces that are not
    /// the plain one.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let words = Self::parse_any(text)?;
        // The dots of a help that was typed as it stands would be printed as what somebody said. A question mark says that nobody knows.
        match words.0.chars().any(|c| c.is_alphanumeric() || c == '?') {
            true => Ok(words),
            false => Err(Refusal::new(format!("\"{words}\" has no letter or figure, and says nothing"))
                .help("write what is so, or leave the key out")),
        }
    }

    /// Reads a text that may be nothing but signs.
    ///
    /// # Errors
    /// The same without letters and figures.
    pub fn parse_any(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        let count = trimmed.chars().count();
        if trimmed.is_empty() {
            return Err(Refusal::new("an empty text").help("leave the key out"));
        }
        if count > Self::LONGEST {
            let head: String = trimmed.chars().take(20).collect();
            return Err(Refusal::new(format!("\"{head}...\" has {count} characters; {} are the most", Self::LONGEST)));
        }
        if let Some(refusal) = Refusal::of_unseen(trimmed) {
            return Err(refusal);
        }
        if trimmed.chars().any(char::is_control) {
            return Err(Refusal::new(format!("\"{}\" holds a control character", super::without_controls(trimmed)))
                .help("write it on one line, without tabs"));
        }
        if let Some(space) = trimmed.chars().find(|c| super::is_odd_space(*c)) {
            let what = format!("\"{trimmed}\" holds U+{:04X}, which looks like a space and is none", u32::from(space));
            return Err(Refusal::new(what).write(super::as_typed(trimmed)));
        }
        Ok(Self(trimmed.to_owned()))
    }

    /// A dash, where words were asked for and there are none.
    #[must_use]
    pub fn dash() -> Self {
        Self("-".to_owned())
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A calendar day, printed as `2026-12-01`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Day(NaiveDate);

impl Day {
    /// Reads `2026-12-01`.
    ///
    /// # Errors
    /// When it is not a day of the calendar, or outside the years 1900 to 2999.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        use chrono::Datelike;
        let day = NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d").ok();
        day.filter(|day| (1900..3000).contains(&day.year()))
            .map(Self)
            .ok_or_else(|| Refusal::new(format!("\"{text}\" is not a day")).help("write it as 2026-12-01"))
    }

    /// The day as a calendar date.
    #[must_use]
    pub const fn as_date(self) -> NaiveDate {
        self.0
    }

    /// A calendar date as a day.
    #[must_use]
    pub const fn from_date(date: NaiveDate) -> Self {
        Self(date)
    }

    /// Days from `earlier` to this day; negative when it is later.
    #[must_use]
    pub fn days_since(self, earlier: Self) -> i64 {
        self.0.signed_duration_since(earlier.0).num_days()
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%Y-%m-%d"))
    }
}
