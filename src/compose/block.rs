//! What a document is made of before anybody knows how large the paper is.
//!
//! Rule of thumb: a block says what a text is (a tone, a name, a warning), never where it stands or how big it is.

use crate::ground::{At, Span, Subject};
use crate::plan::Variant;

/// One document, composed for one audience and, where personal, one holder.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Document {
    /// The document kind: `channel-card`.
    pub kind: &'static str,
    /// Name of the output file without its ending; made from the view alone.
    pub stem: String,
    /// Title for the PDF's metadata.
    pub title: String,
    /// Language of the words, as `en-US`.
    pub language: String,
    /// Name of the layout, with the line that asked for it.
    pub layout: At<String>,
    /// For readers or light of a kind.
    pub variant: Option<Variant>,
    /// Name of the paper in the paper table: `letter`, `a4`.
    pub paper: &'static str,
    /// How many copies of each panel stand on a sheet, for pads and blank cards; 1 otherwise.
    pub copies: u16,
    /// Printed at the foot of every panel.
    pub foot: Foot,
    /// Printed once per sheet: the identification rule, the rule set with its date.
    pub once: Vec<Text>,
    /// Each starts on a new panel where the format has panels; on full pages they flow.
    pub sections: Vec<Section>,
}

/// What every panel says at its foot: the first thing that two stations compare.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Foot {
    /// `GRAYLING edition 7`, printed bold; its number is [`Run::is_of_edition`].
    pub edition: Text,
    /// `team copy`.
    pub audience: String,
    /// `WZ7QRA Ines Varga`, where personal.
    pub holder: Option<String>,
    /// `valid from 2026-12-01, review by 2027-06-01`.
    pub validity: String,
    /// `EXERCISE`, printed bold at head and foot; none in earnest.
    pub exercise: Option<&'static str>,
    /// `invented plan, for practice`; none for a team's own plan.
    pub invented: Option<&'static str>,
    /// The code to read back and its words; the edition floor fills it in.
    pub read_back: Option<ReadBack>,
    /// The letters of the code of this holder's whole copy; the edition floor fills them in.
    pub own: Option<String>,
}

/// Four letters and their words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ReadBack {
    /// `FRKL`.
    pub letters: String,
    /// `Foxtrot Romeo Kilo Lima`.
    pub words: String,
}

/// A titled part of a document.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Section {
    /// Stable key, for layouts and the canonical text: `channels`. Several may have one key: what tells them apart is their title.
    pub key: &'static str,
    /// Title of the panel; a table that spans panels adds the range of its row labels ("Channels 1–8").
    pub title: Text,
    /// What it holds, in reading order.
    pub blocks: Vec<Block>,
}

/// A part of a section.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum Block {
    /// A smaller heading inside a section.
    Heading(Text),
    /// Running text.
    Paragraph(Paragraph),
    /// Records in rows.
    Table(Table),
    /// Boxes and lines to write in.
    Form(Form),
    /// One band drawn to scale.
    Strip(Strip),
    /// A QR symbol.
    Symbol(Symbol),
}

/// Running text with its role.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Paragraph {
    /// The words.
    pub text: Text,
    /// [`Role::Body`], [`Role::Small`] or [`Role::Warning`].
    pub role: Role,
}

/// Words with the record that they came from.
#[derive(Clone, PartialEq, Eq, Hash, Default, Debug)]
pub struct Text {
    /// Plain and strong runs, in order.
    pub runs: Vec<Run>,
    /// The line of the plan to shorten when it does not fit.
    pub span: Span,
}

/// A stretch of one emphasis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
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
    /// Everything said or explained.
    Body,
    /// Less important text.
    Small,
    /// A warning in words.
    Warning,
    /// Label of a form field.
    Label,
    /// Foot of a panel.
    Foot,
    /// Bold text of the foot: edition and code.
    FootStrong,
}

impl Role {
    /// Whether its digits are dialled or keyed, so that the floor of 2.5 mm applies.
    #[must_use]
    pub const fn is_dialled(self) -> bool {
        matches!(self, Self::Hear | Self::Send | Self::Tone | Self::Phone)
    }
}

/// Records in rows.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Table {
    /// Stable key: `channels`. Layouts name tables by it.
    pub key: &'static str,
    /// The columns that compose emits; a layout decides which stand where.
    pub columns: Vec<Column>,
    /// One per record, in printing order.
    pub rows: Vec<Row>,
    /// Said instead of rows when there are none ("no channel is assigned to you").
    pub when_empty: Text,
}

/// A column of a table.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Column {
    /// Stable key: `hear`.
    pub key: &'static str,
    /// Printed over it; empty where none is needed.
    pub heading: &'static str,
    /// Leaving it out of a layout is a finding.
    pub is_must: bool,
    /// What its cells are; words among numbers have a role of their own.
    pub role: Role,
    /// How its texts stand under each other.
    pub align: Align,
    /// Whether its texts stay on one line, so that it takes the width of the widest: others are broken for it.
    pub is_unbroken: bool,
    /// Whether it is left out where no row uses it.
    pub is_where_used: bool,
}

/// How the texts of a column stand under each other.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Align {
    /// At their beginnings.
    Start,
    /// Numbers point under point, words at their beginnings.
    Point,
    /// At their ends, where the column stands at the right edge of a row.
    End,
}

impl Column {
    /// A column that no layout may leave out. Frequencies and tones stand point under point; numbers, names and calls are not
    /// broken.
    #[must_use]
    pub const fn must(key: &'static str, heading: &'static str, role: Role) -> Self {
        let align = if matches!(role, Role::Hear | Role::Send | Role::Tone) { Align::Point } else { Align::Start };
        let is_unbroken = role.is_dialled() || matches!(role, Role::Number | Role::Name | Role::Call);
        Self { key, heading, is_must: true, role, align, is_unbroken, is_where_used: false }
    }

    /// A column that a layout may leave out.
    #[must_use]
    pub const fn may(key: &'static str, heading: &'static str, role: Role) -> Self {
        Self { is_must: false, ..Self::must(key, heading, role) }
    }

    /// The same column, left out where no row uses it.
    #[must_use]
    pub const fn where_used(self) -> Self {
        Self { is_where_used: true, ..self }
    }

    /// The same column, its texts otherwise under each other.
    #[must_use]
    pub const fn aligned(self, align: Align) -> Self {
        Self { align, ..self }
    }
}

/// A record in a table.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Row {
    /// What a range of rows is named by ("Channels 1–8"): the row's number, or nothing.
    pub label: String,
    /// The record.
    pub record: Option<Subject>,
    /// Where the record begins.
    pub span: Span,
    /// By column key. A column without an entry has nothing to say in this row: layouts close the gap, no blank carries meaning.
    pub cells: Vec<(&'static str, Cell)>,
}

impl Row {
    /// The cell of a column.
    #[must_use]
    pub fn cell(&self, key: &str) -> Option<&Cell> {
        self.cells.iter().find(|(name, _)| *name == key).map(|(_, cell)| cell)
    }
}

/// One value in a row.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Cell {
    /// As printed.
    pub text: Text,
    /// What it is.
    pub role: Role,
    /// In base units for the canonical text, where the print is not the value (`146940000` for `146.9400`).
    pub base: Option<String>,
}

/// A sheet to write on: lines of fields in reading order.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Form {
    /// One line of fields after the other, top to bottom.
    pub lines: Vec<FormLine>,
}

/// Fields side by side. Their shares of the width add up to 12 or less.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FormLine {
    /// Left to right.
    pub fields: Vec<FormField>,
}

/// One field to fill in.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FormField {
    /// Number in reading order, as spoken ("field 7").
    pub number: Option<u16>,
    /// Printed small in the field's corner.
    pub label: Text,
    /// Help printed after the label in small type.
    pub help: Option<Text>,
    /// Twelfths of the line's width.
    pub share: u8,
    /// What one writes into.
    pub kind: FieldKind,
    /// Printed in it beforehand.
    pub filled: Option<Text>,
}

/// What a field offers to write into.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum FieldKind {
    /// Writing lines of at least 7 mm.
    Lines(u8),
    /// Boxes to tick, with their words.
    Ticks(Vec<String>),
    /// Boxes for single words with running totals: `columns` a line, `rows` lines.
    Words {
        /// Words a line.
        columns: u8,
        /// Lines.
        rows: u8,
    },
    /// A ruled table: headings with their twelfths, and a number of empty rows; `fill` makes it take what is left of the page.
    Ruled {
        /// Headings and their twelfths.
        columns: Vec<(String, u8)>,
        /// Least number of rows.
        rows: u8,
        /// Whether rows are added until the page is full.
        is_filling: bool,
    },
}

/// One band to scale: an integer axis with ready-made labels.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Strip {
    /// Stable key of the band: `2m`.
    pub key: String,
    /// Left of the head line: "2 m band, 144 to 148 MHz".
    pub title: Text,
    /// Right of the head line.
    pub subtitle: Text,
    /// Axis value at the left edge.
    pub low: i64,
    /// Axis value at the right edge.
    pub high: i64,
    /// Ticks along the axis.
    pub ticks: Vec<Tick>,
    /// Whether its values are hertz at even distances: such a strip may be parted into several.
    pub is_even: bool,
    /// Stretches with a meaning; the same shade means the same on every chart.
    pub areas: Vec<Area>,
    /// What this plan puts there.
    pub marks: Vec<StripMark>,
    /// Pairs: what one hears and what one sends.
    pub joins: Vec<Join>,
}

/// A tick on the axis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Tick {
    /// Axis value.
    pub at: i64,
    /// Printed at long ticks alone.
    pub label: Option<String>,
}

/// A stretch of the axis with a meaning.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Area {
    /// Axis value at its left edge.
    pub from: i64,
    /// Axis value at its right edge.
    pub to: i64,
    /// Which of the stacked lanes under the strip it belongs to, from 0; lane names come from `Area::lane_name`.
    pub lane: u8,
    /// Name of the lane, as "Technician may send".
    pub lane_name: String,
    /// What it means.
    pub shade: Shade,
    /// Printed in or beside it.
    pub label: Text,
}

/// The three greys of every chart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Shade {
    /// Allowed, or of no special meaning: white.
    Open,
    /// Allowed with a limit: light grey.
    Limited,
    /// Not allowed: darker grey.
    Closed,
}

impl Shade {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Limited => "limited",
            Self::Closed => "closed",
        }
    }
}

/// A channel on the axis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripMark {
    /// Axis value of the frequency as dialled.
    pub at: i64,
    /// Left edge of what it occupies.
    pub from: i64,
    /// Right edge of what it occupies.
    pub to: i64,
    /// The name one looks up.
    pub name: Text,
    /// The frequency with a word: "146.9400 hear".
    pub detail: Text,
}

/// Two marks that belong together.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Join {
    /// Axis value of what one hears.
    pub hear: i64,
    /// Axis value of what one sends.
    pub send: i64,
    /// "CMD 1: send 146.3400, hear 146.9400".
    pub label: Text,
}

/// A QR symbol with what it holds.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Symbol {
    /// What a reader gets: plain text or a vCard.
    pub payload: Text,
    /// Printed beside it: what it is and for whom.
    pub caption: Text,
}
