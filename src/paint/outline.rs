//! The outline: what a reader lists beside the pages.

use crate::sheet::{Job, Placement};
use lopdf::{Document, Object, ObjectId, dictionary, text_string};

/// An entry: a title, its page, and what stands under it.
struct OutlineEntry {
    title: String,
    page: usize,
    under: Vec<OutlineEntry>,
}

impl OutlineEntry {
    /// How many entries a reader sees when all is open.
    fn count(entries: &[Self]) -> i64 {
        entries.iter().map(|entry| 1 + Self::count(&entry.under)).sum()
    }
}

/// Titles with their page in reading order; under the holder where a file has the copies of several. A title that stands on a
/// page more than once is named once.
fn entries(job: &Job) -> Vec<OutlineEntry> {
    let mut entries: Vec<OutlineEntry> = Vec::new();
    for Placement { title, page, holder, .. } in job.placements().into_iter().filter(|placed| !placed.title.is_empty())
    {
        let leaf = OutlineEntry { title, page, under: Vec::new() };
        let Some(holder) = holder else {
            once(&mut entries, leaf);
            continue;
        };
        if entries.last().is_none_or(|entry| entry.title != holder) {
            entries.push(OutlineEntry { title: holder, page, under: Vec::new() });
        }
        if let Some(entry) = entries.last_mut() {
            once(&mut entry.under, leaf);
        }
    }
    entries
}

fn once(entries: &mut Vec<OutlineEntry>, leaf: OutlineEntry) {
    if !entries.iter().any(|known| known.title == leaf.title && known.page == leaf.page) {
        entries.push(leaf);
    }
}

/// Writes the outline; gives its root. None for a document of a single title.
pub(super) fn outlines(document: &mut Document, job: &Job, pages: &[ObjectId]) -> Option<ObjectId> {
    let entries = entries(job);
    if OutlineEntry::count(&entries) < 2 {
        return None;
    }
    let root = document.new_object_id();
    let (first, last) = list(document, &entries, root, pages)?;
    let count = OutlineEntry::count(&entries);
    document.set_object(root, dictionary! { "Type" => "Outlines", "Count" => count, "First" => first, "Last" => last });
    Some(root)
}

/// Writes entries under a parent; gives the first and the last.
fn list(
    document: &mut Document,
    entries: &[OutlineEntry],
    parent: ObjectId,
    pages: &[ObjectId],
) -> Option<(ObjectId, ObjectId)> {
    let items: Vec<ObjectId> = entries.iter().map(|_| document.new_object_id()).collect();
    for (index, (entry, id)) in entries.iter().zip(&items).enumerate() {
        let target = Object::Reference(*pages.get(entry.page)?);
        let mut item = dictionary! {
            "Title" => text_string(&entry.title),
            "Parent" => parent,
            "Dest" => vec![target, "Fit".into()],
        };
        if let Some(before) = index.checked_sub(1).and_then(|before| items.get(before)) {
            item.set("Prev", *before);
        }
        if let Some(after) = items.get(index + 1) {
            item.set("Next", *after);
        }
        if let Some((first, last)) = list(document, &entry.under, *id, pages) {
            item.set("First", first);
            item.set("Last", last);
            item.set("Count", OutlineEntry::count(&entry.under));
        }
        document.set_object(*id, item);
    }
    Some((*items.first()?, *items.last()?))
}
