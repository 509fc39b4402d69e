//! Blocks are read over the air by their numbers and letters, in their order.

use super::{Form, FormField};
use crate::ground::{At, Finding, Findings, Span, Subject};
use crate::plan::fields::{BlockMark, ReadStretch};
use crate::plan::rules::{FORM_BLOCK_UNMARKED, FORM_NUMBER_DUPLICATE, FORM_NUMBERS_OUT_OF_ORDER, FORM_READS_NO_BLOCK};
use std::collections::BTreeMap;

/// Each number and letter is there once, and none stands before a lower one.
pub(super) fn check_numbers<'a>(fields: impl Iterator<Item = &'a FormField>, on: &Subject, found: &mut Findings) {
    let mut known: BTreeMap<BlockMark, Span> = BTreeMap::new();
    for field in fields {
        let Some(mark) = field.mark else { continue };
        let label = &field.label.value;
        // Numbers come before letters in the order of marks, so the last of its sort is the highest.
        let highest = known.iter().rfind(|(known, _)| known.is_like(mark.value)).map(|(mark, span)| (*mark, *span));
        let finding = if let Some(first) = known.get(&mark.value) {
            let what = format!("\"{label}\" is a second block {} of its form", mark.value);
            Finding::new(&FORM_NUMBER_DUPLICATE, mark.span, what)
                .label("second block of this number")
                .and(*first, "first block of this number")
                .help("number the blocks anew, from the top left to the bottom right")
        } else if let Some((highest, span)) = highest.filter(|(highest, _)| *highest > mark.value) {
            let what = format!("block {}, \"{label}\", stands after block {highest}", mark.value);
            Finding::new(&FORM_NUMBERS_OUT_OF_ORDER, mark.span, what)
                .label("out of reading order")
                .and(span, "stands before it")
                .help("number the blocks anew, from the top left to the bottom right")
        } else {
            known.insert(mark.value, mark.span);
            continue;
        };
        known.entry(mark.value).or_insert(mark.span);
        found.push(finding.on(on.clone()));
    }
}

/// What is read aloud is there, once, and each block among it can be called.
pub(super) fn check_read_aloud(form: &Form, on: &Subject, found: &mut Findings) {
    let fields: Vec<&FormField> = form.fields().collect();
    let mut said: Vec<At<ReadStretch>> = Vec::new();
    for stretch in &form.read_aloud {
        let at = |mark: BlockMark| fields.iter().position(|field| field.mark.is_some_and(|own| own.value == mark));
        let ends = (at(stretch.value.first), at(stretch.value.last));
        let (Some(first), Some(last)) = ends else {
            let missing = if ends.0.is_none() { stretch.value.first } else { stretch.value.last };
            let what = format!("form {} reads block {missing} aloud, and has no such block", form.id.value);
            let finding =
                Finding::new(&FORM_READS_NO_BLOCK, stretch.span, what).label("names a block that is not there");
            found.push(finding.help(blocks_of(&fields)).on(on.clone()));
            continue;
        };
        let is_same = |other: &&At<ReadStretch>| {
            other.value.first.is_like(stretch.value.first)
                && other.value.first <= stretch.value.last
                && stretch.value.first <= other.value.last
        };
        if let Some(other) = said.iter().find(is_same) {
            let what = format!("form {} reads \"{}\" aloud after \"{}\"", form.id.value, stretch.value, other.value);
            let finding = Finding::new(&FORM_READS_NO_BLOCK, stretch.span, what).label("is read twice");
            found.push(finding.and(other.span, "read before").help("name each block once").on(on.clone()));
        }
        said.push(*stretch);
        let within = fields.get(first.min(last)..=last.max(first)).unwrap_or_default();
        let is_unmarked =
            |field: &&&FormField| field.mark.is_none() && !field.is_silent && field.room.printed.is_empty();
        for field in within.iter().filter(is_unmarked) {
            let what = format!(
                "\"{}\" is read aloud with blocks {}, and has no number or letter",
                field.label.value, stretch.value
            );
            let span = if field.label.span == Span::NOWHERE { stretch.span } else { field.label.span };
            let finding = Finding::new(&FORM_BLOCK_UNMARKED, span, what).label("cannot be called on the air");
            let help = "give it a number or a letter, or say `silent = true` where it is not read";
            found.push(finding.and(stretch.span, "reads it").help(help).on(on.clone()));
        }
    }
}

/// `its blocks are 1, 2, 3`.
fn blocks_of(fields: &[&FormField]) -> String {
    let marks: Vec<String> = fields.iter().filter_map(|field| field.mark.map(|mark| mark.value.to_string())).collect();
    match marks.is_empty() {
        true => "give its blocks numbers or letters, or leave `read-aloud` out".to_owned(),
        false => format!("its blocks are {}", crate::ground::listed(&marks)),
    }
}
