//! Files in which the copies of many holders stand: composed, painted and written some at a time.
#![cfg_attr(unix, allow(clippy::disallowed_methods, reason = "the last test is about the disk"))]

use crate::support::desk::{Desk, listing};
use crate::support::judged;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::Taking;
use fieldsheaf::Wanted;
use fieldsheaf::ground::{Failure, Sink, SinkFile};
use fieldsheaf::ledger::{Entry, KitFile};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::time::Instant;

/// A plan with so many members, who have one of three radios; their cards stand in one file or in a file each.
fn plan(members: usize, document: &str) -> String {
    let mut text = format!("{HEAD}{document}\n");
    for (radio, bands) in
        [("both", "[\"144 MHz to 148 MHz\", \"420 MHz to 450 MHz\"]"), ("two", "[\"144 MHz to 148 MHz\"]")]
    {
        let _ = writeln!(
            text,
            "[[radio]]\nid = \"{radio}\"\nname = \"Radio {radio}\"\ncovers = {bands}\nmodes = [\"FM\"]\npower = \"5 W\""
        );
    }
    for (n, frequency) in ["146.550", "146.580", "446.000", "446.050"].iter().enumerate() {
        let _ = writeln!(
            text,
            "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"CH {n}\"\nspoken = \"Channel {n}\"\nsimplex = \"{frequency} MHz\"",
            n + 1
        );
    }
    for n in 0..members {
        let (radio, call) = (
            ["both", "two"][n % 2],
            format!(
                "WY{}Q{}{}",
                n / 104,
                char::from(b'R' + u8::try_from(n / 26 % 4).unwrap()),
                char::from(b'A' + u8::try_from(n % 26).unwrap())
            ),
        );
        let _ = writeln!(
            text,
            "[[member]]\nid = \"m{n:03}\"\nname = \"Member {n}\"\nconfirmed = 2026-10-01\ncall = \"{call}\"\nclass = \"general\"\nexpires = 2031-01-01\nradio = [\"{radio}\"]"
        );
    }
    text
}

fn cards(more: &str) -> String {
    format!("[[document]]\nid = \"cards\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n{more}")
}

fn shelf(members: usize, document: &str) -> Shelf {
    Shelf::new().with("plan.toml", plan(members, document))
}

/// Finished files, held in memory piece by piece.
#[derive(Default)]
struct Heap {
    finished: Mutex<BTreeMap<String, Vec<u8>>>,
    most: Mutex<usize>,
}

struct HeapFile<'a>(&'a Heap, String, Vec<u8>);

impl Sink for Heap {
    fn open<'a>(&'a self, name: &str) -> Result<Box<dyn SinkFile + 'a>, Failure> {
        Ok(Box::new(HeapFile(self, name.to_owned(), Vec::new())))
    }
}

impl SinkFile for HeapFile<'_> {
    fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        let most = &mut *self.0.most.lock().unwrap();
        *most = (*most).max(bytes.len());
        self.2.extend(bytes);
        Ok(())
    }

    fn finish(self: Box<Self>) -> Result<(), Failure> {
        self.0.finished.lock().unwrap().insert(self.1, self.2);
        Ok(())
    }
}

/// The files of a plan as they are written, with what the manifest says of them, and the size of the largest piece.
fn grown(shelf: &Shelf, threads: usize) -> (BTreeMap<String, Vec<u8>>, Vec<Entry>, usize) {
    let heap = Heap::default();
    let take = |file: KitFile| {
        assert!(file.bytes.is_empty() && file.written.is_some(), "{}", file.name);
        Entry::of(&file)
    };
    let taking = Taking { progress: &|_, _| (), growing: Some(&heap), take: &take };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let built = pool.install(|| fieldsheaf::build_each(shelf, "plan.toml", &Wanted::default(), taking));
    let (outcome, kit) = built.unwrap();
    assert_eq!(outcome.findings.errors(), 0);
    let most = *heap.most.lock().unwrap();
    (heap.finished.into_inner().unwrap(), kit.unwrap().files, most)
}

fn held(shelf: &Shelf) -> Vec<KitFile> {
    let (outcome, kit) = fieldsheaf::build(shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let said: Vec<_> = outcome.findings.iter().map(|finding| (finding.rule.name, finding.message.clone())).collect();
    kit.unwrap_or_else(|| panic!("{said:?}")).files
}

/// Written piece by piece, held whole, on one thread or on several: the bytes are the same, and so is what the manifest says of them.
#[test]
fn a_file_that_grows_has_the_bytes_of_one_that_is_held() {
    let shelf = shelf(150, &cards("together = true\n"));
    let held = held(&shelf);
    let [file] = held.as_slice() else { panic!("{} files", held.len()) };
    assert_eq!((file.pages.len(), file.holder_code.len()), (151, 151));
    assert!(file.placements.len() > 150);
    for threads in [1, 2, 5] {
        let (files, entries, most) = grown(&shelf, threads);
        assert!(files["cards.pdf"] == file.bytes, "{threads} threads");
        assert_eq!(entries, [Entry::of(file)]);
        assert!(most * 2 < file.bytes.len() * 3 / 2, "{most} of {} bytes at once", file.bytes.len());
    }
}

/// Every page of the file says what the holder's own file says, in the order of the holders.
#[test]
fn a_file_of_many_holders_has_the_pages_of_their_own_files() {
    let count = 70;
    let together = held(&shelf(count, &cards("together = true\n")));
    let alone = held(&shelf(count, &cards("")));
    let all = lopdf::Document::load_mem(&together[0].bytes).unwrap();
    assert_eq!((alone.len(), all.get_pages().len()), (count + 1, count + 1));
    for (page, file) in (1..).zip(&alone) {
        let own = lopdf::Document::load_mem(&file.bytes).unwrap();
        let text = own.extract_text(&[1]).unwrap();
        assert!(!text.is_empty());
        assert_eq!(all.extract_text(&[page]).unwrap(), text, "page {page}");
        let holder = file.holder.as_ref().unwrap();
        assert_eq!(together[0].holder_code[holder], file.holder_code[holder]);
        assert_eq!(together[0].holder_content[holder], file.holder_content[holder]);
    }
    let Some(said) = judged("qpdf", &["--check"], &together[0].bytes, &[]) else { return };
    assert!(said.contains("No syntax or stream encoding errors"), "{said}");
    let Some(tree) = judged("pdfinfo", &["-struct"], &together[0].bytes, &[]) else { return };
    let headings = tree.lines().filter(|line| line.trim() == "H1 (block)").count();
    assert_eq!(headings, together[0].placements.len(), "a heading a panel");
}

/// What cannot be set is found once, with its place, and no file is finished.
#[test]
fn a_copy_that_cannot_be_set_is_found_and_nothing_is_finished() {
    let mut text = plan(100, &cards("together = true\n"));
    text = text.replace("name = \"Member 80\"", &format!("name = \"Member {}\"", "W".repeat(70)));
    let shelf = Shelf::new().with("plan.toml", text);
    let heap = Heap::default();
    let taking = Taking { progress: &|_, _| (), growing: Some(&heap), take: &|file: KitFile| file.name };
    let (outcome, kit) = fieldsheaf::build_each(&shelf, "plan.toml", &Wanted::default(), taking).unwrap();
    assert!(kit.is_none());
    assert!(outcome.findings.errors() > 0);
    assert!(heap.finished.into_inner().unwrap().is_empty());
}

/// A machine that takes so many bytes, and no more.
struct Full(usize);

struct FullFile(usize);

impl Sink for Full {
    fn open<'a>(&'a self, _: &str) -> Result<Box<dyn SinkFile + 'a>, Failure> {
        Ok(Box::new(FullFile(self.0)))
    }
}

impl SinkFile for FullFile {
    fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        self.0 = self.0.checked_sub(bytes.len()).ok_or_else(|| Failure::new("cards.pdf", "the disk is full"))?;
        Ok(())
    }

    fn finish(self: Box<Self>) -> Result<(), Failure> {
        Ok(())
    }
}

#[test]
fn a_full_disk_ends_a_file_that_grows() {
    let shelf = shelf(70, &cards("together = true\n"));
    let full = Full(1000);
    let taking = Taking { progress: &|_, _| (), growing: Some(&full), take: &|file: KitFile| file.name };
    let halt = fieldsheaf::build_each(&shelf, "plan.toml", &Wanted::default(), taking).unwrap_err();
    let fieldsheaf::Halt::Failure(failure) = halt else { panic!("{halt:?}") };
    assert_eq!(failure.cause, "the disk is full");
}

/// Killed while a file grows: what stands in the folder is the old edition or the new, and the next run clears what was left.
#[test]
#[cfg(unix)]
fn a_build_killed_while_a_file_grows_leaves_the_folder_whole() {
    let desk = Desk::new();
    desk.file("plan/plan.toml", plan(300, &cards("together = true\n")));
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let files = |desk: &Desk| {
        let names = listing(&desk.path("kit")).into_iter().filter(|name| !name.starts_with('.'));
        names
            .map(|name| (name.clone(), std::fs::read(desk.path("kit").join(name)).unwrap()))
            .collect::<BTreeMap<_, _>>()
    };
    let old = files(&desk);
    desk.edit("plan/plan.toml", "\"446.050 MHz\"", "\"446.075 MHz\"");
    desk.edit("plan/plan.toml", "number = 7\n", "number = 8\n");
    let start = || {
        let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
        command.args(["build", "plan", "--out", "kit"]).current_dir(desk.folder.path());
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
    };
    let fresh = Desk::new();
    fresh.file("plan/plan.toml", desk.read("plan/plan.toml"));
    let begun = Instant::now();
    fresh.run(&["build", "plan", "--out", "kit"]).exits(0);
    let took = begun.elapsed();
    let new = files(&fresh);
    assert_ne!(old["cards.pdf"], new["cards.pdf"]);
    let mut left = 0;
    for kill in 0..12_u32 {
        let mut child = start();
        // A file stands open from a third of the time on.
        std::thread::sleep(took * (kill + 8) / 20);
        let _ = child.kill();
        child.wait().unwrap();
        let now = files(&desk);
        let is_of = |all: &BTreeMap<String, Vec<u8>>, name: &str| all.get(name) == now.get(name);
        assert!(["cards.pdf", "MANIFEST.toml"].iter().all(|name| is_of(&old, name) || is_of(&new, name)));
        left += listing(&desk.path("kit")).iter().filter(|name| name.starts_with(".fieldsheaf-")).count();
    }
    assert!(left > 0, "no run was killed while its file grew");
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    assert_eq!(files(&desk), new);
    assert!(!listing(&desk.path("kit")).iter().any(|name| name.starts_with(".fieldsheaf-")));
}
