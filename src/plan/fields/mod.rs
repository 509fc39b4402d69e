//! What a field of a form offers to write into. A kind is one file here, and its two lines below.

mod lines;
mod mark;
mod moment;
mod printed;
mod signature;
mod squares;
mod table;
mod ticks;
mod value;
mod words;

use super::rules::{FORM_FIELD_UNCLEAR, FORM_LINE_TOO_WIDE};
use super::terms::FieldMeaning;
use crate::ground::caps::FORM_ROWS;
use crate::ground::{At, Finding, Length, Span, Words};
use crate::source::{Reading, Whole, record};
use lines::WritingLines;
pub use mark::{BlockMark, Letter, ReadStretch};
use moment::Moment;
use printed::Printed;
use signature::SignatureField;
use squares::Squares;
use table::RuledTable;
pub(super) use table::check_alone;
use ticks::TickBoxes;
pub use value::{PlanValue, RowSource, RowValue};
use words::WordBoxes;

/// The list of the kinds.
macro_rules! field_kinds {
    ($($field:ident: $kind:ident,)*) => {
        record! {
            /// The keys of all kinds: a field has those of one.
            pub struct WrittenRoom = "field" { $($field: $kind,)* }
        }

        impl WrittenRoom {
            /// The room that is asked for, a writing line where none is. None where there are two.
            pub(super) fn settled(self, label: &At<Words>, of: &mut Reading<'_>) -> Option<AskedRoom> {
                if [$(self.$field.is_asked(),)*].into_iter().filter(|is_asked| *is_asked).count() > 1 {
                    unclear(label, &[$($kind::ASKED_BY,)*], of);
                    return None;
                }
                $(if self.$field.is_asked() {
                    let meaning = self.$field.meaning();
                    return Some(AskedRoom { room: self.$field.room(label, of), meaning });
                })*
                Some(AskedRoom { room: FieldRoom::lines(1), meaning: None })
            }
        }
    };
}

field_kinds! {
    lines: WritingLines,
    ticks: TickBoxes,
    words: WordBoxes,
    table: RuledTable,
    squares: Squares,
    signature: SignatureField,
    moment: Moment,
    printed: Printed,
}

/// Rows of one field: a page has forty, and a table may go on.
type Rows = Whole<u16, 1, { FORM_ROWS.most }>;

/// The rows that are asked for, or the usual ones.
fn rows(asked: Option<At<Rows>>, usual: u16) -> u16 {
    asked.map_or(usual, |rows| rows.value.get())
}

/// A kind of field, declared by its keys.
trait FieldKind {
    /// What asks for it, in the help of a finding: `ticks (or meaning)`.
    const ASKED_BY: &'static str;
    /// Whether it is asked for.
    fn is_asked(&self) -> bool;
    /// What it takes of the sheet.
    fn room(self, label: &At<Words>, of: &mut Reading<'_>) -> FieldRoom;
    /// Whose words its boxes are, where not its own.
    fn meaning(&self) -> Option<FieldMeaning> {
        None
    }
}

/// The room of a field as a form asks for it.
pub(super) struct AskedRoom {
    pub room: FieldRoom,
    /// Whose words the boxes are, where not its own.
    pub meaning: Option<FieldMeaning>,
}

/// What a field takes of the sheet, as it is drawn: boxes to tick, and below them rows to write on.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FieldRoom {
    /// Its kind, as the canonical text names it: `lines`.
    pub kind: &'static str,
    /// Printed in place of room to write; empty for most.
    pub printed: String,
    /// Boxes to tick, with their words.
    pub boxes: Vec<String>,
    /// What each of them means, in their order; none where that is not said.
    pub meanings: Vec<String>,
    /// How many rows there are; writing lines, where they have neither boxes for words nor columns.
    pub rows: u16,
    /// The key that says how many, for whoever has to write fewer; none where there is no choice.
    pub rows_key: Option<&'static str>,
    /// Whether rows are added until the page is full.
    pub is_filling: bool,
    /// The least height of a row; the layout's where none is said.
    pub least: Option<Length>,
    /// What is printed at the end of the last line: a zone.
    pub at_end: String,
    /// Boxes to tick there.
    pub end_boxes: Vec<String>,
    /// Boxes for single words in each row, with the running total behind them; 0 for none.
    pub words: u8,
    /// The columns of the rows.
    pub columns: Vec<FieldColumn>,
    /// The names of the rows, in their order; none where they have no names.
    pub row_labels: Vec<String>,
    /// The records of the plan of which each is a row.
    pub rows_from: Option<RowSource>,
    /// Whether the rows are numbered.
    pub is_numbered: bool,
    /// Whether the rows go on over pages.
    pub is_continued: bool,
}

/// A column of rows to write on.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FieldColumn {
    /// Printed over it.
    pub heading: String,
    /// Twelfths of the width.
    pub share: u8,
    /// Boxes to tick in each row.
    pub boxes: Vec<String>,
    /// What is printed in the rows, from the first on.
    pub cells: Vec<String>,
    /// Whether it is added up in a last row.
    pub is_summed: bool,
    /// What is printed of each record.
    pub from: Option<RowValue>,
}

impl FieldRoom {
    /// A room of a kind with nothing in it: a kind says what it has.
    #[must_use]
    pub const fn empty(kind: &'static str) -> Self {
        Self {
            kind,
            printed: String::new(),
            boxes: Vec::new(),
            meanings: Vec::new(),
            rows: 0,
            rows_key: None,
            is_filling: false,
            least: None,
            at_end: String::new(),
            end_boxes: Vec::new(),
            words: 0,
            columns: Vec::new(),
            row_labels: Vec::new(),
            rows_from: None,
            is_numbered: false,
            is_continued: false,
        }
    }

    /// Whether a last row adds columns up.
    #[must_use]
    pub fn is_summed(&self) -> bool {
        self.columns.iter().any(|column| column.is_summed)
    }
}

impl FieldColumn {
    /// A column to write in.
    #[must_use]
    pub const fn new(heading: String, share: u8) -> Self {
        Self { heading, share, boxes: Vec::new(), cells: Vec::new(), is_summed: false, from: None }
    }
}

fn unclear(label: &At<Words>, kinds: &[&str], of: &mut Reading<'_>) {
    let what = format!("the field \"{}\" asks for two kinds of room", label.value);
    let (last, others) = kinds.split_last().unwrap_or((&"", &[]));
    let help = format!("keep one of {} and {last}", others.join(", "));
    of.found.push(Finding::new(&FORM_FIELD_UNCLEAR, label.span, what).label("this field").help(help));
}

/// Twelfths of a line's width.
pub(super) const WHOLE: u8 = 12;

/// Reports shares of more than a line.
pub(super) fn check_width(shares: impl Iterator<Item = u8>, whole: u8, span: Span, of: &mut Reading<'_>) {
    let sum: u32 = shares.map(u32::from).sum();
    if sum > u32::from(whole) {
        let parts = if whole == WHOLE { "twelfths".to_owned() } else { format!("parts of {whole}") };
        let what = format!("the shares of a line add up to {sum} {parts}");
        let finding = Finding::new(&FORM_LINE_TOO_WIDE, span, what).label("the last of its line");
        of.found.push(finding.help(format!("make them add up to {whole}")));
    }
}
