//! No two documents make a file of one name: `sheet` for each member makes `sheet-qra`, and so does a document of that id. And no
//! file has a name that some machine cannot give it.

use super::rules::{FILE_NAME_RESERVED, FILE_NAME_TAKEN};
use super::task::Task;
use crate::ground::{At, Finding, Findings, Id, Subject};
use crate::plan::{Plan, subject};
use std::collections::{BTreeMap, BTreeSet};

/// What makes a file: a document, or a kit.
struct Maker<'a> {
    what: &'static str,
    id: &'a At<Id>,
    on: Subject,
    /// Whether all its copies are one file.
    is_one: bool,
}

impl<'a> Maker<'a> {
    fn of(task: &Task, plan: &'a Plan) -> Option<Self> {
        match task.kit() {
            Some(kit) => plan.kits.named(kit).map(|kit| Self {
                what: "kit",
                id: &kit.id,
                on: subject(kit),
                is_one: kit.together.is_some_and(|together| together.value),
            }),
            None => plan.documents.named(&task.document).map(|order| Self {
                what: "document",
                id: &order.id,
                on: subject(order),
                is_one: false,
            }),
        }
    }

    fn is(&self, other: &Self) -> bool {
        (self.what, &self.id.value) == (other.what, &other.id.value)
    }
}

/// The name of a task's file, without its ending.
fn stem(task: &Task, maker: &Maker<'_>) -> String {
    if maker.is_one { task.document.to_string() } else { task.stem() }
}

/// The name of the file that a task ends up in, without its ending: all sets of a kit may be one file.
#[must_use]
pub fn file_stem(task: &Task, plan: &Plan) -> String {
    Maker::of(task, plan).map_or_else(|| task.stem(), |maker| stem(task, &maker))
}

/// A finding for each two documents or kits that have a file name in common.
pub(super) fn file_names(tasks: &[Task], plan: &Plan, found: &mut Findings) {
    let mut makers: BTreeMap<String, Maker<'_>> = BTreeMap::new();
    let mut said = BTreeSet::new();
    for task in tasks {
        let Some(maker) = Maker::of(task, plan) else { continue };
        let stem = stem(task, &maker);
        let other = match makers.get(&stem) {
            Some(other) if other.is(&maker) => continue,
            Some(other) => other,
            None => {
                if is_reserved(&stem) {
                    found.push(reserved(&maker, &stem));
                }
                makers.insert(stem, maker);
                continue;
            }
        };
        // The longer id is the one that runs into the copies of the other; of two alike it is the kit's.
        let is_other_short = other.id.value.as_str().len() <= maker.id.value.as_str().len();
        let (short, long) = if is_other_short { (other, &maker) } else { (&maker, other) };
        if said.insert((short.what, short.id.value.clone(), long.what, long.id.value.clone())) {
            found.push(finding(&stem, (short, long), free(long, tasks, plan)));
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

fn reserved(maker: &Maker<'_>, stem: &str) -> Finding {
    let what = format!(
        "the {} {} makes the file {stem}.pdf, a name that Windows keeps for a device",
        maker.what, maker.id.value
    );
    let id = format!("{stem}-sheet");
    Finding::new(&FILE_NAME_RESERVED, maker.id.span, what)
        .label("no file name everywhere")
        .note("Windows keeps con, prn, aux, nul, com1 to com9 and lpt1 to lpt9, with any ending (from memory)")
        .write(id)
        .on(maker.on.clone())
}

fn finding(stem: &str, (short, long): (&Maker<'_>, &Maker<'_>), free: Option<Id>) -> Finding {
    let (one, other) = (&short.id.value, &long.id.value);
    let makers = match short.what == long.what {
        true => format!("the {}s {one} and {other}", short.what),
        false => format!("the {} {one} and the {} {other}", short.what, long.what),
    };
    let what = format!("{makers} both make the file {stem}.pdf");
    let finding = Finding::new(&FILE_NAME_TAKEN, long.id.span, what).on(long.on.clone());
    let finding = finding.label("makes a file of this name").and(short.id.span, "makes one as well");
    match free {
        Some(id) => finding.help(format!("write id = \"{id}\"")).fix(long.id.span, format!("\"{id}\"")),
        None => finding.help(format!("give this {} another id", long.what)),
    }
}

/// The id with the least number behind it that gives no file a name that is taken.
fn free(maker: &Maker<'_>, tasks: &[Task], plan: &Plan) -> Option<Id> {
    let made = |task: &Task| Maker::of(task, plan).map(|maker| stem(task, &maker));
    let taken: BTreeSet<String> = tasks.iter().filter_map(made).collect();
    let own: Vec<&Task> =
        tasks.iter().filter(|task| Maker::of(task, plan).is_some_and(|other| other.is(maker))).collect();
    let ids = (2..100).filter_map(|number| Id::parse(&format!("{}-{number}", maker.id.value)).ok());
    let stem_of = |task: &Task, new: &Id| if maker.is_one { new.to_string() } else { task.stem_of(new) };
    let is_free = |new: &Id| {
        tasks.iter().all(|task| task.document != *new) && own.iter().all(|task| !taken.contains(&stem_of(task, new)))
    };
    ids.into_iter().find(|id| is_free(id))
}
