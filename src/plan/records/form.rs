//! Forms.

use crate::ground::caps::FORM_ROWS;
use crate::ground::{At, Finding, Findings, Id, Span, Subject, Words, plural};
use crate::plan::register::{Register, subject};
use crate::plan::rules::{
    FORM_BASE_NOT_TAKEN, FORM_FIELD_UNCLEAR, FORM_LINE_TOO_WIDE, FORM_NUMBER_DUPLICATE, FORM_NUMBERS_OUT_OF_ORDER,
};
use crate::plan::terms::FieldMeaning;
use crate::source::{Field, KeySchemas, Keys, MORE_THAN_TAKEN, Meant, Node, Reading, Schemas, Whole, record};
use std::collections::BTreeMap;

/// Twelfths of a line's width.
const WHOLE: u8 = 12;

/// Rows of one field: a page has forty.
type Rows = Whole<u8, 1, 250>;

record! {
    /// `[[form]]`: something to write on, in reading order.
    #[derive(Clone, Debug)]
    pub struct Form = "form" {
        /// Unique among forms, as `tally`.
        id: At<Id>,
        /// Its title, printed at its head, as `Tally`.
        title: At<Words>,
        /// Its own edition, printed with its title, as `"1"`.
        edition: At<Words>,
        /// The published form that it follows, in words, as `ICS 211`; nothing is printed when left out.
        base: Option<At<Words>>,
        /// Who keeps it, as `the training team`; nothing is printed when left out.
        owner: Option<At<Words>>,
        /// How it is read aloud or filled in, in one sentence, as `Read aloud by number.`; nothing is printed when left
        /// out.
        reading: Option<At<Words>>,
        /// Lines of fields, from the top down; none when left out.
        lines as "line": Vec<Vec<FormField>>,
        /// The record.
        span: Span,
    }

    /// Fields side by side.
    pub struct FormLine = "form-line" {
        /// Fields side by side, from left to right; their shares add up to 12 at most; none when left out.
        fields as "field": Vec<FormField>,
        /// Its table.
        span: Span,
    }

    /// A field to fill in.
    pub struct WrittenField = "field" {
        /// Number in reading order; a field outside it when left out.
        number: Option<At<Whole<u16, 1, 999, true>>>,
        /// Its name, printed small in its corner, as `To`.
        label: At<Words>,
        /// Printed after the label, as `tactical call`; nothing when left out.
        help: Option<At<Words>>,
        /// Twelfths of the line's width; 12 when left out.
        share: Option<At<Whole<u8, 1, 12>>>,
        /// Writing lines; 1, where no other kind of room is asked for, when left out.
        lines: Option<At<Rows>>,
        /// Words beside boxes to tick, as `open`; no boxes when left out.
        ticks: Vec<At<Words>>,
        /// The boxes are the profile's words for this, its own ticks where the profile has none; its own ticks alone
        /// when left out.
        meaning: Option<At<FieldMeaning>>,
        /// Boxes for single words: how many a line, as `5`; no such boxes when left out.
        words: Option<At<Whole<u8, 1, 10>>>,
        /// Lines of word boxes; 5 when left out.
        word_lines: Option<At<Rows>>,
        /// Columns of a ruled table, from left to right; no table when left out.
        columns: Vec<FormColumn>,
        /// The table's least number of rows; 5 when left out.
        rows: Option<At<Rows>>,
        /// Whether its rows fill the page; false when left out.
        is_filling as "fill": bool,
    }

    /// A column of a ruled table.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct FormColumn = "column" {
        /// Its heading, as `Name`.
        heading: At<Words>,
        /// Twelfths of the table's width; those of all columns add up to 12 at most, as `6`.
        share: At<Whole<u8, 1, 12>>,
    }
}

/// A field to fill in.
#[derive(Clone, Debug)]
pub struct FormField {
    /// Number in reading order.
    pub number: Option<At<Whole<u16, 1, 999, true>>>,
    /// Printed in its corner.
    pub label: At<Words>,
    /// Printed after the label.
    pub help: Option<At<Words>>,
    /// Twelfths of the width.
    pub share: u8,
    /// What one writes into.
    pub kind: FormFieldKind,
    /// Whose words the boxes are, where not its own.
    pub meaning: Option<FieldMeaning>,
}

/// What a field offers to write into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormFieldKind {
    /// Writing lines.
    Lines(u8),
    /// Boxes to tick.
    Ticks(Vec<At<Words>>),
    /// Boxes for words: how many a line, how many lines.
    Words {
        /// Words a line.
        columns: u8,
        /// Lines.
        rows: u8,
    },
    /// A ruled table.
    Ruled {
        /// Headings and their twelfths.
        columns: Vec<(At<Words>, u8)>,
        /// Least number of rows.
        rows: u8,
        /// Whether rows fill the page.
        is_filling: bool,
    },
}

/// The lines of a form, and whether they can be printed and read as one.
impl Field for Vec<Vec<FormField>> {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        if keys.get(key).is_none() {
            of.missing(key);
        }
        let lines = Vec::<FormLine>::take(keys, key, of)?;
        for line in &lines {
            let last = line.fields.last().map_or(line.span, |field| field.label.span);
            check_width(line.fields.iter().map(|field| field.share), last, of);
        }
        let lines: Self = lines.into_iter().map(|line| line.fields).collect();
        check_rows(lines.iter().flatten(), of);
        let id = keys.get("id").and_then(Node::text).and_then(|text| Id::parse(text).ok());
        check_numbers(lines.iter().flatten(), id.map(|id| Subject::new("form", &id)), of);
        Some(lines)
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        Vec::<FormLine>::describe(key, doc, keys, schemas);
        keys.require(key);
    }
}

/// A form that would not end is refused at the field with which it is too long.
fn check_rows<'a>(fields: impl Iterator<Item = &'a FormField>, of: &mut Reading<'_>) {
    let mut count = 0;
    for field in fields {
        let rows = match &field.kind {
            FormFieldKind::Lines(rows) | FormFieldKind::Words { rows, .. } | FormFieldKind::Ruled { rows, .. } => *rows,
            FormFieldKind::Ticks(_) => 1,
        };
        count += u64::from(rows);
        if !FORM_ROWS.takes(count) {
            let what = format!(
                "with \"{}\" there are {count} {}, and {} are taken",
                field.label.value, FORM_ROWS.of, FORM_ROWS.most
            );
            let finding = Finding::new(&MORE_THAN_TAKEN, field.label.span, what).label("too much with this field");
            of.found.push(finding.help("ask for fewer rows, or make two forms of it"));
            return;
        }
    }
}

/// Blocks are read over the air by their numbers, in the order of the numbers.
fn check_numbers<'a>(fields: impl Iterator<Item = &'a FormField>, on: Option<Subject>, of: &mut Reading<'_>) {
    let mut known: BTreeMap<u16, Span> = BTreeMap::new();
    for field in fields {
        let Some(number) = field.number else { continue };
        let label = &field.label.value;
        let highest = known.last_key_value().map(|(highest, span)| (*highest, *span));
        let finding = if let Some(first) = known.get(&number.value.get()) {
            let what = format!("\"{label}\" is a second block {} of its form", number.value.get());
            Finding::new(&FORM_NUMBER_DUPLICATE, number.span, what)
                .label("second block of this number")
                .and(*first, "first block of this number")
                .help("number the blocks anew, from the top left to the bottom right")
        } else if let Some((highest, span)) = highest.filter(|(highest, _)| *highest > number.value.get()) {
            let what = format!("block {}, \"{label}\", stands after block {highest}", number.value.get());
            Finding::new(&FORM_NUMBERS_OUT_OF_ORDER, number.span, what)
                .label("out of reading order")
                .and(span, "stands before it")
                .help("number the blocks anew, from the top left to the bottom right")
        } else {
            known.insert(number.value.get(), number.span);
            continue;
        };
        known.entry(number.value.get()).or_insert(number.span);
        of.found.push(on.iter().cloned().fold(finding, Finding::on));
    }
}

/// A base that is a form of the plan or of the program: nothing of it would be printed, and its name hides that.
pub(in crate::plan) fn check_bases(own: &Register<Form>, of_program: &Register<Form>, found: &mut Findings) {
    for form in own.iter() {
        let Some(base) = &form.base else { continue };
        let is_meant = |known: &&Form| {
            let names = [known.id.as_str(), known.title.as_str()];
            names.iter().any(|name| name.eq_ignore_ascii_case(base.as_str()))
        };
        let others = own.iter().filter(|other| other.id.value != form.id.value);
        let Some(meant) = others.chain(of_program.iter()).find(is_meant) else { continue };
        let count = plural(meant.lines.iter().flatten().count(), "field");
        let what = format!(
            "form {} names form {} as its base, but takes over none of its {count}",
            form.id.value, meant.id.value
        );
        found.push(
            Finding::new(&FORM_BASE_NOT_TAKEN, base.span, what)
                .label("is printed as words and nothing more")
                .note("`base` says in words which published form this one follows")
                .help("write its fields out in this form, and leave `base` out")
                .on(subject(form)),
        );
    }
}

fn check_width(shares: impl Iterator<Item = u8>, span: Span, of: &mut Reading<'_>) {
    let sum: u32 = shares.map(u32::from).sum();
    if sum > u32::from(WHOLE) {
        let what = format!("the shares of a line add up to {sum} twelfths");
        of.found.push(
            Finding::new(&FORM_LINE_TOO_WIDE, span, what).label("the last of its line").help("make them add up to 12"),
        );
    }
}

impl Meant for FormField {
    type Written = WrittenField;

    fn mean(written: WrittenField, of: &mut Reading<'_>) -> Option<Self> {
        let share = written.share.map_or(WHOLE, |share| share.value.get());
        let (number, label, help) = (written.number, written.label.clone(), written.help.clone());
        let meaning = written.meaning.map(|meaning| meaning.value);
        Some(Self { number, label, help, share, kind: room(written, of)?, meaning })
    }
}

fn room(written: WrittenField, of: &mut Reading<'_>) -> Option<FormFieldKind> {
    let WrittenField { label, lines, ticks, words, columns, .. } = written;
    let is_ticked = !ticks.is_empty() || written.meaning.is_some();
    let kinds = [lines.is_some(), is_ticked, words.is_some(), !columns.is_empty()];
    if kinds.iter().filter(|is_asked| **is_asked).count() > 1 {
        let what = format!("the field \"{}\" asks for two kinds of room", label.value);
        let finding = Finding::new(&FORM_FIELD_UNCLEAR, label.span, what).label("this field");
        of.found.push(finding.help("keep one of lines, ticks (or meaning), words and columns"));
        return None;
    }
    let rows_of = |rows: Option<At<Rows>>, usual: u8| rows.map_or(usual, |rows| rows.value.get());
    Some(if let Some(words) = words {
        FormFieldKind::Words { columns: words.value.get(), rows: rows_of(written.word_lines, 5) }
    } else if !columns.is_empty() {
        let columns: Vec<_> = columns.into_iter().map(|column| (column.heading, column.share.value.get())).collect();
        check_width(columns.iter().map(|(_, share)| *share), label.span, of);
        FormFieldKind::Ruled { columns, rows: rows_of(written.rows, 5), is_filling: written.is_filling }
    } else if ticks.is_empty() {
        FormFieldKind::Lines(rows_of(lines, 1))
    } else {
        FormFieldKind::Ticks(ticks)
    })
}
