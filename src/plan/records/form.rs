//! Forms.

use crate::ground::caps::FORM_ROWS;
use crate::ground::{At, Finding, Findings, Id, Span, Subject, Words, plural};
use crate::plan::fields::{AskedRoom, FieldRoom, WHOLE, WrittenRoom, check_width};
use crate::plan::register::{Register, subject};
use crate::plan::rules::{FORM_BASE_NOT_TAKEN, FORM_NUMBER_DUPLICATE, FORM_NUMBERS_OUT_OF_ORDER};
use crate::plan::terms::FieldMeaning;
use crate::source::{Field, Key, KeySchemas, Keys, MORE_THAN_TAKEN, Meant, Node, Reading, Schemas, Whole, record};
use std::collections::BTreeMap;

record! {
    /// `[[form]]`: something to write on, in reading order.
    #[derive(Clone, Debug)]
    pub struct Form = "form" {
        /// Unique among forms, as `tally`; made of its title when left out.
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
        /// What one writes into.
        room: WrittenRoom,
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
    pub room: FieldRoom,
    /// Whose words the boxes are, where not its own.
    pub meaning: Option<FieldMeaning>,
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
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        Vec::<FormLine>::plain(keys, key, into);
    }
}

/// A form that would not end is refused at the field with which it is too long.
fn check_rows<'a>(fields: impl Iterator<Item = &'a FormField>, of: &mut Reading<'_>) {
    let mut count = 0;
    for field in fields {
        count += u64::from(field.room.rows.max(1));
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

impl Meant for FormField {
    type Written = WrittenField;

    fn mean(written: WrittenField, of: &mut Reading<'_>) -> Option<Self> {
        let WrittenField { number, label, help, share, room } = written;
        let AskedRoom { room, meaning } = room.settled(&label, of)?;
        Some(Self { number, label, help, share: share.map_or(WHOLE, |share| share.value.get()), room, meaning })
    }
}
