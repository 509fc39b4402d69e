//! No two documents make a file of one name: `sheet` for each member makes `sheet-qra`, and so does a document of that id. And no
//! file has a name that some machine cannot give it.

use super::rules::{FILE_NAME_RESERVED, FILE_NAME_TAKEN};
use super::task::Task;
use crate::ground::{Finding, Findings, Id};
use crate::plan::{DocumentOrder, Plan, subject};
use std::collections::{BTreeMap, BTreeSet};

/// A finding for each two documents that have a file name in common.
pub(super) fn file_names(tasks: &[Task], plan: &Plan, found: &mut Findings) {
    let mut makers: BTreeMap<String, &Id> = BTreeMap::new();
    let mut said = BTreeSet::new();
    for task in tasks {
        let stem = task.stem();
        if let Some(order) = plan.documents.named(&task.document).filter(|_| is_reserved(&stem)) {
            found.push(reserved(order, &stem));
        }
        let Some(other) = makers.insert(stem.clone(), &task.document) else { continue };
        // The longer id is the one that runs into the copies of the other.
        let (short, long) = if other.as_str().len() < task.document.as_str().len() {
            (other, &task.document)
        } else {
            (&task.document, other)
        };
        let orders = Option::zip(plan.documents.named(short), plan.documents.named(long));
        if let Some(orders) = orders.filter(|_| said.insert((short, long))) {
            found.push(finding(&stem, orders, free(long, tasks)));
        }
    }
}

/// Whether Windows keeps a name for a device, whatever its ending (from memory).
fn is_reserved(stem: &str) -> bool {
    let is_numbered = |head: &str| {
        stem.strip_prefix(head)
            .is_some_and(|number| matches!(number.as_bytes(), [digit] if (b'1'..=b'9').contains(digit)))
    };
    matches!(stem, "con" | "prn" | "aux" | "nul") || is_numbered("com") || is_numbered("lpt")
}

fn reserved(order: &DocumentOrder, stem: &str) -> Finding {
    let what =
        format!("the document {} makes the file {stem}.pdf, a name that Windows keeps for a device", order.id.value);
    let id = format!("{stem}-sheet");
    Finding::new(&FILE_NAME_RESERVED, order.id.span, what)
        .label("no file name everywhere")
        .note("Windows keeps con, prn, aux, nul, com1 to com9 and lpt1 to lpt9, with any ending (from memory)")
        .write(id)
        .on(subject(order))
}

fn finding(stem: &str, (short, long): (&DocumentOrder, &DocumentOrder), free: Option<Id>) -> Finding {
    let (one, other) = (&short.id.value, &long.id.value);
    let what = format!("the documents {one} and {other} both make the file {stem}.pdf");
    let finding = Finding::new(&FILE_NAME_TAKEN, long.id.span, what).on(subject(long));
    let finding = finding.label("makes a file of this name").and(short.id.span, "makes one as well");
    match free {
        Some(id) => finding.help(format!("write id = \"{id}\"")).fix(long.id.span, format!("\"{id}\"")),
        None => finding.help("give this document another id"),
    }
}

/// The id with the least number behind it that gives no file a name that is taken.
fn free(id: &Id, tasks: &[Task]) -> Option<Id> {
    let taken: BTreeSet<String> = tasks.iter().map(Task::stem).collect();
    let own: Vec<&Task> = tasks.iter().filter(|task| task.document == *id).collect();
    let ids = (2..100).filter_map(|number| Id::parse(&format!("{id}-{number}")).ok());
    let is_free = |new: &Id| {
        tasks.iter().all(|task| task.document != *new) && own.iter().all(|task| !taken.contains(&task.stem_of(new)))
    };
    ids.into_iter().find(|id| is_free(id))
}
