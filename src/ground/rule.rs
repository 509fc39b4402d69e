//! What a finding is an instance of.

/// How much a finding weighs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Withholds the kit.
    Error,
    /// Printed on the check sheet; may be accepted with a reason.
    Warning,
    /// For information.
    Note,
}

impl Severity {
    /// The word printed for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A rule: one fault that this program looks for.
///
/// Every floor that can find faults lists its rules as `RULES`, a slice of references to these.
#[derive(Debug)]
pub struct Rule {
    /// Kebab-case, states the fault, never reused.
    pub name: &'static str,
    /// The only place where the severity of the rule is set.
    pub severity: Severity,
    /// Whether `[[accept]]` may waive it. Warnings usually may; an error only where this says so; law never.
    pub waivable: bool,
    /// Published source in a few words, or "common practice, no source", or "this program's own format".
    pub source: &'static str,
    /// First version of the program that had it.
    pub since: &'static str,
    /// Printed by `explain`: paragraphs `Finds:` and `Costs:`, a ```` ```toml ```` block under `Wrong:` whose guilty line
    /// ends in a comment with the rule's name (the block runs as a test), and `Right:`.
    pub doc: &'static str,
}

/// Source of a rule that no regulation asks for: a plan could not be read or printed otherwise.
pub const OWN_FORMAT: &str = "this program's own format";

impl Rule {
    /// An error that rests on this program's own format and may not be accepted.
    #[must_use]
    pub const fn of_format(name: &'static str, doc: &'static str) -> Self {
        Self::error(name, OWN_FORMAT, doc)
    }

    /// An error that may not be accepted.
    #[must_use]
    pub const fn error(name: &'static str, source: &'static str, doc: &'static str) -> Self {
        Self { name, severity: Severity::Error, waivable: false, source, since: "0.1.0", doc }
    }

    /// A warning that may be accepted.
    #[must_use]
    pub const fn warning(name: &'static str, source: &'static str, doc: &'static str) -> Self {
        Self { name, severity: Severity::Warning, waivable: true, source, since: "0.1.0", doc }
    }
}

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Rule {}
