//! Why a written value was refused.

/// Why a value cannot be read: one sentence with the value in it, and what to type instead when that is known.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refusal {
    /// One sentence, no full stop.
    pub what: String,
    /// What to type.
    pub help: Option<String>,
    /// The text to put in place of the value, where the help says exactly which.
    pub fix: Option<String>,
    /// A bare number was written where a unit matters.
    pub is_bare_number: bool,
}

impl Refusal {
    /// A refusal without advice.
    #[must_use]
    pub fn new(what: impl Into<String>) -> Self {
        Self { what: what.into(), help: None, fix: None, is_bare_number: false }
    }

    /// Says what to type.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Says exactly what to type in place of the value: this text, in quotes. Nothing where no quotes may hold it: a control
    /// character is refused again.
    #[must_use]
    pub fn write(mut self, text: impl AsRef<str>) -> Self {
        if text.as_ref().contains(char::is_control) {
            return self;
        }
        let quoted = format!("\"{}\"", text.as_ref().replace('\\', "\\\\").replace('"', "\\\""));
        self.help = Some(format!("write {quoted}"));
        self.fix = Some(quoted);
        self
    }

    /// The same for a number, which stands without quotes.
    #[must_use]
    pub fn write_number(mut self, number: u64) -> Self {
        self.help = Some(format!("write {number}"));
        self.fix = Some(number.to_string());
        self
    }

    /// The refusal of a text with a character that is not seen; none where it has none.
    #[must_use]
    pub fn of_unseen(text: &str) -> Option<Self> {
        if text.is_ascii() {
            return None;
        }
        let unseen = text.chars().find(|c| super::is_unseen(*c))?;
        let what =
            format!("\"{}\" holds U+{:04X}, which is not seen", super::without_controls(text), u32::from(unseen));
        let meant = super::as_typed(text);
        let refusal = Self::new(what);
        Some(if meant.is_empty() { refusal.help("leave the key out") } else { refusal.write(meant) })
    }

    /// Marks a bare number where a unit matters.
    #[must_use]
    pub fn bare_number(mut self) -> Self {
        self.is_bare_number = true;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::Refusal;

    #[test]
    fn nothing_is_proposed_that_no_quotes_may_hold() {
        let write = |text: &str| Refusal::new("a").write(text);
        assert_eq!(write("145.5\u{7}MHz"), Refusal::new("a"));
        assert_eq!(write("a\"b").fix.as_deref(), Some("\"a\\\"b\""));
        assert_eq!(write("a\"b").help.as_deref(), Some("write \"a\\\"b\""));
    }
}
