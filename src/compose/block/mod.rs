//! What a document is made of before anybody knows how large the paper is.
//!
//! Rule of thumb: a block says what a text is (a tone, a name, a warning), never where it stands or how big it is.

mod form;
mod front;
mod matrix;
mod notice;
mod strip;
mod table;
mod text;
mod tree;

pub use form::{FieldBlock, FieldLine, FormBlock};
pub use front::{Front, WordEntry, WordList};
pub use matrix::{Matrix, MatrixCell, MatrixColumn, MatrixRow, Sign};
pub use notice::{Arrow, Notice};
pub use strip::{
    Arrows, CellHalf, FlagSign, Join, LaneForm, Legend, LegendEntry, Sample, Saying, Shade, Strip, StripCell,
    StripFlag, StripGap, StripLane, StripScale, Tick,
};
pub use table::{Align, Cell, Column, Row, Table};
pub use text::{Role, Run, Text, TypeSize, Weight};
pub use tree::{TreeBlock, TreeGuard, TreeNode};

use crate::ground::At;
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
    /// Printed once, on the first page or on every sheet of cards: the identification rule, the rule set with its date. Forms have none.
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
    /// The number of a holder's copy, printed behind the audience: it stands beside the content, as the edition's does.
    pub copy: Option<usize>,
    /// `WZ7QRA Ines Varga`, where personal.
    pub holder: Option<String>,
    /// `any member`, said in its place where it is nobody's own.
    pub shared: &'static str,
    /// The same in a word, as the call sign.
    pub short_holder: Option<String>,
    /// `valid from 2026-12-01, review by 2027-06-01`.
    pub validity: String,
    /// That it is an exercise, printed bold at head and foot; none in earnest.
    pub exercise: Option<ExerciseMark>,
    /// `invented plan, for practice`; none for a team's own plan.
    pub invented: Option<&'static str>,
    /// The code to read back and its words; the edition floor fills it in.
    pub read_back: Option<ReadBack>,
    /// The letters of the code of this holder's whole copy; the edition floor fills them in.
    pub own: Option<String>,
}

/// By what a sheet of an exercise is told from one in earnest.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ExerciseMark {
    /// `EXERCISE`.
    pub word: &'static str,
    /// The words that mean a real emergency, where the sheet is of an exercise's own kind: they stand in its foot, and a border around it.
    pub real: Option<Text>,
}

/// Four letters and their words.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
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
    /// Signs or words by row and column.
    Matrix(Matrix),
    /// Boxes and lines to write in.
    Form(FormBlock),
    /// Things that hang on each other.
    Tree(TreeBlock),
    /// One band drawn to scale.
    Strip(Box<Strip>),
    /// How to read what is drawn to scale.
    Legend(Legend),
    /// A QR symbol.
    Symbol(Symbol),
    /// What a front says.
    Front(Front),
    /// Words with what they mean.
    WordList(WordList),
    /// A sign to put up.
    Notice(Notice),
    /// How a sheet is folded.
    Folding(Folding),
}

/// Running text with its role.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Paragraph {
    /// The words.
    pub text: Text,
    /// [`Role::Body`], [`Role::Small`] or [`Role::Warning`].
    pub role: Role,
}

/// How a sheet of a format of paper is folded: its pictures, where the format has some, and the words.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Folding {
    /// The format as layouts call it.
    pub format: &'static str,
    /// How it is folded.
    pub words: Text,
}

/// A QR symbol with what it holds.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Symbol {
    /// What a reader gets: plain text or a vCard.
    pub payload: Text,
    /// Printed beside it: what it is and for whom.
    pub caption: Text,
}
