//! What a field of a form offers to write into. A kind is one file here, and its two lines below.

mod lines;
mod table;
mod ticks;
mod words;

use super::rules::{FORM_FIELD_UNCLEAR, FORM_LINE_TOO_WIDE};
use super::terms::FieldMeaning;
use crate::ground::{At, Finding, Span, Words};
use crate::source::{Reading, Whole, record};
use lines::WritingLines;
use table::RuledTable;
use ticks::TickBoxes;
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
}

/// Rows of one field: a page has forty.
type Rows = Whole<u8, 1, 250>;

/// The rows that are asked for, or the usual ones.
fn rows(asked: Option<At<Rows>>, usual: u8) -> u8 {
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
    /// Boxes to tick, with their words.
    pub boxes: Vec<String>,
    /// How many rows there are; writing lines, where they have neither boxes for words nor columns.
    pub rows: u8,
    /// The key that says how many, for whoever has to write fewer; none where there is no choice.
    pub rows_key: Option<&'static str>,
    /// Whether rows are added until the page is full.
    pub is_filling: bool,
    /// Boxes for single words in each row, with the running total behind them; 0 for none.
    pub words: u8,
    /// The columns of the rows.
    pub columns: Vec<FieldColumn>,
}

/// A column of rows to write on.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct FieldColumn {
    /// Printed over it.
    pub heading: String,
    /// Twelfths of the width.
    pub share: u8,
}

impl FieldRoom {
    /// A room of a kind with nothing in it: a kind says what it has.
    #[must_use]
    pub const fn empty(kind: &'static str) -> Self {
        Self { kind, boxes: Vec::new(), rows: 0, rows_key: None, is_filling: false, words: 0, columns: Vec::new() }
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
pub(super) fn check_width(shares: impl Iterator<Item = u8>, span: Span, of: &mut Reading<'_>) {
    let sum: u32 = shares.map(u32::from).sum();
    if sum > u32::from(WHOLE) {
        let what = format!("the shares of a line add up to {sum} twelfths");
        of.found.push(
            Finding::new(&FORM_LINE_TOO_WIDE, span, what).label("the last of its line").help("make them add up to 12"),
        );
    }
}
