//! The outline: what a reader lists beside the pages.

use super::file::FileBytes;
use crate::sheet::{Job, Placement};
use lopdf::{Object, dictionary, text_string};

/// An entry: a title, its page, and what stands under it.
pub(super) struct OutlineEntry {
    title: String,
    page: usize,
    under: Vec<OutlineEntry>,
}

impl OutlineEntry {
    /// How many entries a reader sees when all is open.
    fn count(entries: &[Self]) -> i64 {
        entries.iter().map(|entry| 1 + Self::count(&entry.under)).sum()
    }

    /// The entries of a job.
    pub fn of(job: &Job) -> Vec<Self> {
        entries(job)
    }

    /// The same in a file that has so many pages before.
    pub fn behind(self, pages: usize) -> Self {
        let under = self.under.into_iter().map(|entry| entry.behind(pages)).collect();
        Self { title: self.title, page: self.page + pages, under }
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

/// Writes the outline of a file whose pages are these objects; gives its root. None for a document of a single title.
pub(super) fn put_outline(file: &mut FileBytes, entries: &[OutlineEntry], pages: &[u32]) -> Option<u32> {
    if OutlineEntry::count(entries) < 2 {
        return None;
    }
    let root = file.reserve(1);
    let (first, last) = list(file, entries, root, pages)?;
    let count = OutlineEntry::count(entries);
    let [first, last] = [first, last].map(|id| Object::Reference((id, 0)));
    file.put(root, dictionary! { "Type" => "Outlines", "Count" => count, "First" => first, "Last" => last });
    Some(root)
}

/// Writes entries under a parent; gives the first and the last.
fn list(file: &mut FileBytes, entries: &[OutlineEntry], parent: u32, pages: &[u32]) -> Option<(u32, u32)> {
    let reference = |id: u32| Object::Reference((id, 0));
    let first = file.reserve(entries.len());
    let last = first + u32::try_from(entries.len()).ok()?.checked_sub(1)?;
    for (entry, id) in entries.iter().zip(first..) {
        let mut item = dictionary! {
            "Title" => text_string(&entry.title),
            "Parent" => reference(parent),
            "Dest" => vec![reference(*pages.get(entry.page)?), "Fit".into()],
        };
        if id > first {
            item.set("Prev", reference(id - 1));
        }
        if id < last {
            item.set("Next", reference(id + 1));
        }
        if let Some((first, last)) = list(file, &entry.under, id, pages) {
            item.set("First", reference(first));
            item.set("Last", reference(last));
            item.set("Count", OutlineEntry::count(&entry.under));
        }
        file.put(id, item);
    }
    Some((first, last))
}
