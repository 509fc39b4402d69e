//! `[defaults.channel]`: what counts in each channel of a file that does not say it itself.

use super::records::{is_many, kinds_of_tables};
use super::rules::DEFAULTS_OF_NOTHING;
use crate::ground::{Finding, Findings};
use crate::source::{self, BAD_VALUE, Entries, Key, Node, Reading, Written, WrittenRecord};

/// What the table is called.
pub(super) const DEFAULTS: &str = "defaults";

/// Takes the tables of defaults out of the list, and fills with each the records of its kind in its file.
pub(super) fn spread_defaults(list: &mut Vec<WrittenRecord>, found: &mut Findings) {
    let (tables, mut records): (Vec<_>, Vec<_>) =
        std::mem::take(list).into_iter().partition(|record| record.kind.text == DEFAULTS);
    for table in &tables {
        let Some(kinds) = table.node.entries() else {
            let what = format!("{} stands where a table of keys is wanted", table.node.kind());
            let finding = Finding::new(&BAD_VALUE, table.node.span, what);
            found.push(finding.help("write [defaults.channel] and the keys below it"));
            continue;
        };
        for (kind, node) in kinds {
            spread(&mut records, kind, node, found);
        }
    }
    *list = records;
}

fn spread(records: &mut [WrittenRecord], kind: &Key, node: &Node, found: &mut Findings) {
    if !is_many(&kind.text) {
        found.push(no_kind(kind));
        return;
    }
    let read = |of: &mut Reading<'_>| Entries::read(node, of);
    let Some(defaults) = Reading::alone(DEFAULTS, node.span, found, read) else { return };
    let is_of = |record: &&mut WrittenRecord| {
        record.kind.text == kind.text && record.kind.span.file == kind.span.file && record.node.entries().is_some()
    };
    let mut filled = 0;
    for record in records.iter_mut().filter(is_of) {
        record.fill(defaults.list());
        filled += 1;
    }
    if filled == 0 {
        found.push(of_nothing(kind));
    }
}

fn of_nothing(kind: &Key) -> Finding {
    let kind_name = &kind.text;
    let what = format!("[defaults.{kind_name}] counts in this file alone, and no [[{kind_name}]] is written in it");
    Finding::new(&DEFAULTS_OF_NOTHING, kind.span, what)
        .label("counts in nothing")
        .help("move it to the file of those records; a table of rows has `defaults` of its own")
}

fn no_kind(kind: &Key) -> Finding {
    let kinds: Vec<&'static str> = kinds_of_tables().collect();
    let what = format!("`{}` is no kind of record of which a plan has many", kind.text);
    let finding = Finding::new(&BAD_VALUE, kind.span, what).label("has no defaults");
    match source::meant("record", &kind.text, &kinds) {
        Some((name, _)) => finding.help(format!("did you mean `{name}`?")).fix(kind.span, name),
        None => finding.note(format!("kinds of record: {}", kinds.join(", "))),
    }
}
