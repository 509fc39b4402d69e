//! Words with their emphasis, and what they are.

use crate::ground::Span;
use std::hash::{Hash, Hasher};

/// Words with the record that they came from.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Text {
    /// Plain and strong runs, in order.
    pub runs: Vec<Run>,
    /// The line of the plan to shorten when it does not fit.
    pub span: Span,
}

impl Text {
    /// Plain words.
    pub fn plain(text: impl Into<String>, span: Span) -> Self {
        Self { runs: vec![Run::of(text, false)], span }
    }

    /// Strong words.
    pub fn strong(text: impl Into<String>, span: Span) -> Self {
        Self { runs: vec![Run::of(text, true)], span }
    }

    /// The number or a day of the edition.
    pub fn of_edition(text: impl Into<String>, span: Span) -> Self {
        Self { runs: vec![Run { is_of_edition: true, ..Run::of(text, false) }], span }
    }

    /// The program's own plain words.
    pub fn own(text: impl Into<String>) -> Self {
        Self::plain(text, Span::NOWHERE)
    }

    /// Adds a run, to the last one where that is of the same sort.
    #[must_use]
    pub fn and(mut self, run: Run) -> Self {
        match self.runs.last_mut().filter(|last| last.is_like(&run)) {
            Some(last) => last.text.push_str(&run.text),
            None => self.runs.push(run),
        }
        self
    }

    /// Adds plain words.
    #[must_use]
    pub fn then(mut self, text: impl Into<String>) -> Self {
        self.runs.push(Run::of(text, false));
        self
    }

    /// Adds another text; its place is left out.
    #[must_use]
    pub fn then_text(mut self, text: Self) -> Self {
        self.runs.extend(text.runs);
        self
    }

    /// Adds strong words.
    #[must_use]
    pub fn then_strong(mut self, text: impl Into<String>) -> Self {
        self.runs.push(Run::of(text, true));
        self
    }

    /// All words without their emphasis.
    #[must_use]
    pub fn words(&self) -> String {
        self.runs.iter().map(|run| run.text.as_str()).collect()
    }

    /// Whether there are no words.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.runs.iter().all(|run| run.text.is_empty())
    }
}

/// In few words to the hasher: texts are most of a sheet, and those that are set once are found by it.
impl Hash for Text {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.runs.iter().for_each(|run| state.write(run.text.as_bytes()));
        state.write_u64(u64::from(self.span.start) << 32 | u64::from(self.span.end));
    }
}

/// A stretch of one emphasis.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Bold: a warning in words.
    pub is_strong: bool,
    /// The number or a day of the edition: it stands beside the content and is none, so the read-back code does not rest on it.
    pub is_of_edition: bool,
}

impl Run {
    /// Words of the plan or the program.
    fn of(text: impl Into<String>, is_strong: bool) -> Self {
        Self { text: text.into(), is_strong, is_of_edition: false }
    }

    /// Whether another run may go on where this one ends.
    const fn is_like(&self, other: &Self) -> bool {
        self.is_strong == other.is_strong && self.is_of_edition == other.is_of_edition
    }
}

/// What a text is; the layout gives each role its size and weight.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// Panel title.
    Title,
    /// Heading of a column or a smaller heading.
    Heading,
    /// The number of a row.
    Number,
    /// The name one looks up.
    Name,
    /// A frequency to hear: dialled.
    Hear,
    /// A frequency to send: dialled.
    Send,
    /// A tone or code: keyed.
    Tone,
    /// A phone number: dialled.
    Phone,
    /// A word standing in a number's column ("off", "do not send").
    Word,
    /// Call signs and other text with a slashed zero.
    Call,
    /// Where one goes on: it stands behind a drawn arrow.
    Next,
    /// Everything said or explained.
    Body,
    /// Less important text.
    Small,
    /// What a sign says, to be read from across a yard.
    Sign,
    /// What it says beside that, to be read from some steps away.
    SignWords,
    /// A warning in words.
    Warning,
    /// Label of a form field.
    Label,
    /// Foot of a panel.
    Foot,
    /// Bold text of the foot: edition and code.
    FootStrong,
}

/// What the size of a text goes by.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TypeSize {
    /// What a sign says: the largest there is.
    Sign,
    /// The other words of a sign.
    SignWords,
    /// Panel titles.
    Title,
    /// Headings of columns.
    Heading,
    /// Numbers of rows.
    Number,
    /// Names that one looks up.
    Name,
    /// What is dialled or keyed.
    Dialled,
    /// Words among what is dialled.
    Word,
    /// What is said or explained.
    Body,
    /// What matters less.
    Small,
    /// The foot of a panel.
    Foot,
}

/// How strong a text stands out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Weight {
    /// As most.
    Regular,
    /// Before others of its size.
    Medium,
    /// Before all others.
    Bold,
}

impl Role {
    /// Whether its digits are dialled or keyed, so that the floor of 2.5 mm applies.
    #[must_use]
    pub const fn is_dialled(self) -> bool {
        matches!(self.size(), TypeSize::Dialled)
    }

    /// What its size goes by.
    #[must_use]
    pub const fn size(self) -> TypeSize {
        match self {
            Self::Sign => TypeSize::Sign,
            Self::SignWords => TypeSize::SignWords,
            Self::Title => TypeSize::Title,
            Self::Heading => TypeSize::Heading,
            Self::Number => TypeSize::Number,
            Self::Name => TypeSize::Name,
            Self::Hear | Self::Send | Self::Tone | Self::Phone => TypeSize::Dialled,
            Self::Word => TypeSize::Word,
            Self::Call | Self::Next | Self::Body | Self::Warning => TypeSize::Body,
            Self::Small | Self::Label => TypeSize::Small,
            Self::Foot | Self::FootStrong => TypeSize::Foot,
        }
    }

    /// How strong it stands out: what one listens to comes before what one sends.
    #[must_use]
    pub const fn weight(self) -> Weight {
        match self {
            Self::Title | Self::Sign | Self::SignWords | Self::Name | Self::FootStrong => Weight::Bold,
            Self::Hear => Weight::Medium,
            _ => Weight::Regular,
        }
    }
}
