//! A disk that fills up half-way: the old output stays whole, the next run clears what was left.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a test fails by panicking")]
#![allow(clippy::disallowed_methods, reason = "these tests are about the disk")]

use fieldsheaf::cli::{FolderSink, JOURNAL, kit};
use fieldsheaf::ground::{Audience, Failure, Sink};
use fieldsheaf::ledger::{Kit, KitFile, MANIFEST};
use std::collections::BTreeMap;
use std::path::Path;

fn sample(edition: u32) -> Kit {
    let file = |name: &str| KitFile {
        name: name.to_owned(),
        bytes: format!("{name} of edition {edition}").into_bytes(),
        kind: "channel-card".to_owned(),
        audience: Audience::Team,
        holder: None,
        pages: Vec::new(),
        placements: Vec::new(),
        code: None,
    };
    Kit {
        plan: "ALDER".to_owned(),
        edition,
        rule_set: "rules".to_owned(),
        files: vec![file("a.pdf"), file("b.pdf"), file("c.pdf")],
    }
}

/// Hands on to the folder until the disk is full.
struct Full<'a> {
    sink: &'a mut FolderSink,
    left: usize,
}

impl Sink for Full<'_> {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.left = self.left.checked_sub(1).ok_or_else(|| Failure::new(name, "no space left on the disk"))?;
        self.sink.put(name, bytes)
    }
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap());
    entries.map(|e| (e.file_name().to_string_lossy().into_owned(), std::fs::read(e.path()).unwrap())).collect()
}

fn names(kit: &Kit) -> Vec<String> {
    kit.files.iter().map(|file| file.name.clone()).chain([MANIFEST.to_owned()]).collect()
}

#[test]
fn a_full_disk_leaves_the_old_edition_whole() {
    for left in 0..4 {
        let folder = tempfile::tempdir().unwrap();
        kit::write(&sample(1), folder.path()).unwrap();
        let before = files(folder.path());
        let new = sample(2);
        let mut sink = FolderSink::open(folder.path(), &names(&new)).unwrap();
        let failure = kit::put(&new, &mut Full { sink: &mut sink, left }).unwrap_err();
        assert!(failure.cause.contains("no space left"));
        drop(sink);
        assert_eq!(files(folder.path()), before, "after {left} files");
    }
}

#[test]
fn a_run_that_was_stopped_is_completed_by_the_next() {
    let folder = tempfile::tempdir().unwrap();
    kit::write(&sample(1), folder.path()).unwrap();
    let new = sample(2);
    let mut sink = FolderSink::open(folder.path(), &names(&new)).unwrap();
    kit::put(&new, &mut Full { sink: &mut sink, left: 2 }).unwrap_err();
    // Pulled plug: nothing is tidied up.
    std::mem::forget(sink);
    assert!(files(folder.path()).contains_key(JOURNAL));
    kit::write(&new, folder.path()).unwrap();
    let after = files(folder.path());
    assert_eq!(after.keys().map(String::as_str).collect::<Vec<_>>(), [MANIFEST, "a.pdf", "b.pdf", "c.pdf"]);
    assert_eq!(after["c.pdf"], b"c.pdf of edition 2");
}
