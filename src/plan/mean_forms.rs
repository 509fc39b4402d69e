//! Forms as meant.

use super::model::{Form, FormField, FormFieldKind};
use super::need::{Need, list, may};
use super::register::{Register, subject};
use super::rules::{
    FORM_BASE_NOT_TAKEN, FORM_FIELD_UNCLEAR, FORM_LINE_TOO_WIDE, FORM_NUMBER_DUPLICATE, FORM_NUMBERS_OUT_OF_ORDER,
};
use super::written::{WrittenForm, WrittenFormColumn, WrittenFormField};
use crate::ground::caps::FORM_ROWS;
use crate::ground::{At, Finding, Findings, Span, Subject, Words, plural};
use crate::source::MORE_THAN_TAKEN;
use std::collections::BTreeMap;

/// Twelfths of a line's width.
const WHOLE: u8 = 12;

pub(super) fn form(written: WrittenForm, need: &mut Need<'_>) -> Option<Form> {
    let (id, title, edition) =
        (need.key(written.id, "id"), need.key(written.title, "title"), need.key(written.edition, "edition"));
    if written.line.is_none() {
        need.missing("line");
    }
    let mut lines = Vec::new();
    for line in list(written.line) {
        let fields: Vec<FormField> =
            list(line.value.field).into_iter().filter_map(|written| field(written, need)).collect();
        check_width(
            fields.iter().map(|field| field.share),
            fields.last().map_or(line.span, |field| field.label.span),
            need,
        );
        lines.push(fields);
    }
    check_rows(lines.iter().flatten(), need);
    check_numbers(lines.iter().flatten(), id.as_ref().map(|id| Subject::new("form", id)), need);
    Some(Form {
        id: id?,
        title: title?,
        edition: edition?,
        base: may(written.base),
        owner: may(written.owner),
        reading: may(written.reading),
        lines,
        span: need.span,
    })
}

/// A form that would not end is refused at the field with which it is too long.
fn check_rows<'a>(fields: impl Iterator<Item = &'a FormField>, need: &mut Need<'_>) {
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
            need.found.push(finding.help("ask for fewer rows, or make two forms of it"));
            return;
        }
    }
}

/// Blocks are read over the air by their numbers, in the order of the numbers.
fn check_numbers<'a>(fields: impl Iterator<Item = &'a FormField>, on: Option<Subject>, need: &mut Need<'_>) {
    let mut known: BTreeMap<u16, Span> = BTreeMap::new();
    for field in fields {
        let Some(number) = field.number else { continue };
        let label = &field.label.value;
        let highest = known.last_key_value().map(|(highest, span)| (*highest, *span));
        let finding = if let Some(first) = known.get(&number.value) {
            let what = format!("\"{label}\" is a second block {} of its form", number.value);
            Finding::new(&FORM_NUMBER_DUPLICATE, number.span, what)
                .label("second block of this number")
                .and(*first, "first block of this number")
                .help("number the blocks anew, from the top left to the bottom right")
        } else if let Some((highest, span)) = highest.filter(|(highest, _)| *highest > number.value) {
            let what = format!("block {}, \"{label}\", stands after block {highest}", number.value);
            Finding::new(&FORM_NUMBERS_OUT_OF_ORDER, number.span, what)
                .label("out of reading order")
                .and(span, "stands before it")
                .help("number the blocks anew, from the top left to the bottom right")
        } else {
            known.insert(number.value, number.span);
            continue;
        };
        known.entry(number.value).or_insert(number.span);
        need.found.push(on.iter().cloned().fold(finding, Finding::on));
    }
}

/// A base that is a form of the plan or of the program: nothing of it would be printed, and its name hides that.
pub(super) fn check_bases(own: &Register<Form>, of_program: &Register<Form>, found: &mut Findings) {
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

fn check_width(shares: impl Iterator<Item = u8>, span: Span, need: &mut Need<'_>) {
    let sum: u32 = shares.map(u32::from).sum();
    if sum > u32::from(WHOLE) {
        let what = format!("the shares of a line add up to {sum} twelfths");
        need.found.push(
            Finding::new(&FORM_LINE_TOO_WIDE, span, what).label("the last of its line").help("make them add up to 12"),
        );
    }
}

fn field(written: At<WrittenFormField>, need: &mut Need<'_>) -> Option<FormField> {
    let span = written.span;
    let written = written.value;
    let mut inner = Need { kind: "field", span, profile: need.profile, found: &mut *need.found };
    let label = inner.key(written.label, "label")?;
    let (lines, ticks) = (may(written.lines), list(written.ticks));
    let (words, columns) = (may(written.words), list(written.columns));
    let kinds = [lines.is_some(), !ticks.is_empty(), words.is_some(), !columns.is_empty()];
    if kinds.iter().filter(|is_asked| **is_asked).count() > 1 {
        let what = format!("the field \"{}\" asks for two kinds of room", label.value);
        let finding = Finding::new(&FORM_FIELD_UNCLEAR, label.span, what).label("this field");
        need.found.push(finding.help("keep one of lines, ticks, words and columns"));
        return None;
    }
    let kind = if let Some(words) = words {
        FormFieldKind::Words {
            columns: words.value.clamp(1, 10),
            rows: may(written.word_lines).map_or(5, |rows| rows.value.max(1)),
        }
    } else if !columns.is_empty() {
        let columns = ruled_columns(columns, &label, need);
        let is_filling = may(written.fill).is_some_and(|fill| fill.value);
        FormFieldKind::Ruled { columns, rows: may(written.rows).map_or(5, |rows| rows.value.max(1)), is_filling }
    } else if ticks.is_empty() {
        FormFieldKind::Lines(lines.map_or(1, |lines| lines.value.max(1)))
    } else {
        FormFieldKind::Ticks(ticks)
    };
    let share = may(written.share).map_or(WHOLE, |share| share.value.clamp(1, WHOLE));
    Some(FormField { number: may(written.number), label, help: may(written.help), share, kind })
}

fn ruled_columns(columns: Vec<At<WrittenFormColumn>>, label: &At<Words>, need: &mut Need<'_>) -> Vec<(At<Words>, u8)> {
    let mut understood = Vec::new();
    for column in columns {
        let mut inner = Need { kind: "column", span: column.span, profile: need.profile, found: &mut *need.found };
        let heading = inner.key(column.value.heading, "heading");
        let share = inner.key(column.value.share, "share");
        if let (Some(heading), Some(share)) = (heading, share) {
            understood.push((heading, share.value.max(1)));
        }
    }
    check_width(understood.iter().map(|(_, share)| *share), label.span, need);
    understood
}
