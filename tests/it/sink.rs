//! A machine that fails at every call in turn, and one that is switched off there: the folder holds the old kit, or the new one, or
//! what the next run completes; and nothing of anybody else's is touched.
#![allow(clippy::disallowed_methods, reason = "these tests are about the disk")]

use crate::support::faulty::{Disk, Fault, Faulty, exchanges};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::Wanted;
use fieldsheaf::cli::kit::{Scope, finish, write};
use fieldsheaf::cli::{DiskWorld, FolderSink, JOURNAL, Machine, StandingFolder};
use fieldsheaf::ground::{Audience, Failure, ReadFault, Sink, World};
use fieldsheaf::ledger::{Kit, KitFile, MANIFEST, Manifest};
use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::TempDir;

fn file(name: &str, words: &str) -> KitFile {
    KitFile {
        name: name.to_owned(),
        bytes: words.as_bytes().to_vec(),
        written: None,
        kind: "channel-card".to_owned(),
        audience: Audience::Team,
        holder: None,
        parts: Vec::new(),
        pages: Vec::new(),
        placements: Vec::new(),
        code: None,
        content: None,
        holder_content: BTreeMap::new(),
        holder_code: BTreeMap::new(),
    }
}

/// An edition: a file that every edition has, one that never changes, and one of its own.
fn sample(edition: u32) -> Kit {
    let files = vec![
        file("a.pdf", &format!("a of edition {edition}")),
        file("b.pdf", "always the same"),
        file(&format!("only-{edition}.pdf"), &format!("only of edition {edition}")),
    ];
    let [plan, title, team, rule_set] = ["ALDER", "Alder plan", "Alder team", "rules"].map(str::to_owned);
    Kit { plan, title, team, edition, is_draft: false, rule_set, files }
}

type Files = BTreeMap<String, Vec<u8>>;

fn files(folder: &Path) -> Files {
    let Ok(entries) = std::fs::read_dir(folder) else { return Files::new() };
    let entries = entries.map(|entry| entry.unwrap());
    entries.map(|e| (e.file_name().to_string_lossy().into_owned(), std::fs::read(e.path()).unwrap())).collect()
}

/// What a folder holds after a kit alone was written to it.
fn written(kit: &Kit) -> Files {
    let mut files: Files = kit.files.iter().map(|file| (file.name.clone(), file.bytes.clone())).collect();
    files.insert(MANIFEST.to_owned(), Manifest::of(kit).to_text().into_bytes());
    files
}

/// By a machine without a fault, which does not wait for the disk either: thousands are saved here.
fn save(kit: &Kit, folder: &Path) {
    write(&Faulty::new(Fault::Dead, usize::MAX), kit, folder, Scope::Whole).unwrap();
}

const FAULTS: [Fault; 6] = [
    Fault::Once(ErrorKind::PermissionDenied),
    Fault::Once(ErrorKind::StorageFull),
    Fault::Once(ErrorKind::ReadOnlyFilesystem),
    Fault::Full,
    Fault::Short,
    Fault::Dead,
];

/// Visible files of a folder: what a person sees who opens it.
fn visible(folder: &Path) -> Files {
    files(folder).into_iter().filter(|(name, _)| !name.starts_with('.')).collect()
}

/// Writes `new` to a folder that holds `old`, with the fault at every call in turn, and judges what stands there.
fn at_every_call(fault: Fault, disk: Disk, old: Option<&Kit>, new: &Kit) -> usize {
    let mut at = 0;
    loop {
        let desk = tempfile::tempdir().unwrap();
        let folder = desk.path().join("kit");
        old.inspect(|old| save(old, &folder));
        let (before, after) = (files(&folder), written(new));
        let calls = Faulty::new(fault, at).on(disk);
        let result = write(&calls, new, &folder, Scope::Whole);
        if !calls.struck() {
            result.unwrap();
            assert_eq!(files(&folder), after);
            assert_eq!(std::fs::read_dir(desk.path()).unwrap().count(), 1, "nothing is left beside it");
            return at;
        }
        let now = files(&folder);
        let said = format!("{fault:?} at call {at}: {result:?}, {:?}", now.keys());
        for (name, bytes) in now.iter().filter(|(name, _)| !name.starts_with('.')) {
            assert!(before.get(name) == Some(bytes) || after.get(name) == Some(bytes), "{name} is torn: {said}");
        }
        let seen = visible(&folder);
        assert!(disk != Disk::Exchanges || seen == before || seen == after, "the old edition or the new one: {said}");
        if result.is_ok() {
            assert_eq!(now, after, "{said}");
        } else if fault != Fault::Dead {
            // One that could not be removed is hidden, and gone after the next run.
            let has_journal = now.contains_key(JOURNAL);
            let visible: Files = now.into_iter().filter(|(name, _)| !name.starts_with('.')).collect();
            assert_eq!(has_journal, visible != before, "a journal where it is needed, and nowhere else: {said}");
            let is_left =
                old.is_none() && !has_journal && std::fs::read_dir(&folder).is_ok_and(|mut at| at.next().is_none());
            assert!(!is_left, "an empty folder is left where none was: {said}");
        }
        save(new, &folder);
        assert_eq!(files(&folder), after, "the next run completes it: {said}");
        assert_eq!(std::fs::read_dir(desk.path()).unwrap().count(), 1, "nothing is left beside it: {said}");
        at += 1;
    }
}

#[test]
fn a_fault_at_any_call_leaves_the_old_kit_or_the_new_or_what_the_next_run_completes() {
    for (fault, disk) in FAULTS.into_iter().flat_map(|fault| [(fault, Disk::MakesNone), (fault, Disk::Refuses)]) {
        let run = |old: Option<&Kit>, new| at_every_call(fault, disk, old, &sample(new));
        let (first, later) = (run(None, 1), run(Some(&sample(1)), 2));
        assert!(first >= 20 && later >= 30, "{fault:?}, {disk:?}: {first} and {later} calls");
    }
}

#[test]
fn where_folders_can_be_exchanged_a_fault_at_any_call_leaves_the_old_kit_or_the_new_and_nothing_between() {
    for fault in FAULTS.into_iter().filter(|_| exchanges()) {
        let run = |old: Option<&Kit>, new| at_every_call(fault, Disk::Exchanges, old, &sample(new));
        let (first, later) = (run(None, 1), run(Some(&sample(1)), 2));
        assert!(first >= 25 && later >= 40, "{fault:?}: {first} and {later} calls");
    }
}

/// Writes a kit over the first sample on a disk that is full from every so-many-th call on: the old kit is whole, and nothing else is
/// left. How often it was refused.
fn refused_when_full(new: &Kit, every: usize) -> usize {
    let mut refused = 0;
    for at in (0..).step_by(every) {
        let folder = tempfile::tempdir().unwrap();
        save(&sample(1), folder.path());
        let before = files(folder.path());
        let calls = Faulty::new(Fault::Full, at);
        match write(&calls, new, folder.path(), Scope::Whole) {
            Ok(()) => assert_eq!(files(folder.path()), written(new)),
            Err(failure) => {
                refused += 1;
                assert!(failure.cause.contains("no storage space"), "{failure}");
                assert_eq!(files(folder.path()), before, "call {at}");
            }
        }
        if !calls.struck() {
            break;
        }
    }
    refused
}

/// A disk that is full from any call on: no journal stays, no part stays, the old kit is whole. Only where the machine has moved a
/// file may the journal stay, and moving takes no room here.
#[test]
fn a_full_disk_leaves_the_folder_as_it_was() {
    let refused = refused_when_full(&sample(2), 1);
    assert!(refused >= 12, "{refused}");
}

/// Switched off at any call, and again at any call of the next run, which writes a third edition: the one after completes it.
#[test]
fn two_stopped_runs_in_a_row_are_completed_by_the_third() {
    let mut runs = 0;
    for first in 0.. {
        let mut is_second_over = true;
        for second in 0.. {
            let folder = tempfile::tempdir().unwrap();
            save(&sample(1), folder.path());
            let calls = Faulty::new(Fault::Dead, first);
            let _ = write(&calls, &sample(2), folder.path(), Scope::Whole);
            if !calls.struck() {
                break;
            }
            is_second_over = false;
            let calls = Faulty::new(Fault::Dead, second);
            let _ = write(&calls, &sample(3), folder.path(), Scope::Whole);
            save(&sample(4), folder.path());
            assert_eq!(files(folder.path()), written(&sample(4)), "switched off at {first}, then at {second}");
            runs += 1;
            if !calls.struck() {
                break;
            }
        }
        if is_second_over {
            break;
        }
    }
    assert!(runs >= 900, "{runs}");
}

fn standing(folder: &Path) -> Result<StandingFolder<'static>, Failure> {
    StandingFolder::take(&Machine, folder, Duration::ZERO)
}

/// So ends a build in which an error is found after some files are finished: also the folders go that it had made for them.
#[test]
fn a_run_that_gives_up_between_two_files_leaves_the_folder_as_it_was() {
    for left in 0..4 {
        let desk = tempfile::tempdir().unwrap();
        let folder = desk.path().join("kit");
        save(&sample(1), &folder);
        let before = files(&folder);
        let give_up = |folder: &Path| {
            let sink = FolderSink::new(&Machine, folder);
            sample(2).files.iter().take(left).for_each(|file| sink.put(&file.name, &file.bytes).unwrap());
            let parts = files(folder).keys().filter(|name| name.ends_with(".part")).count();
            assert_eq!(parts, left.min(3), "they are on the disk already");
        };
        give_up(&folder);
        assert_eq!(files(&folder), before, "after {left} files");
        give_up(&desk.path().join("x/y/kit"));
        assert!(!desk.path().join("x").exists(), "after {left} files");
    }
}

/// Files are put from many threads as they are finished; they take their places in one order, and a name is taken once.
#[test]
fn files_that_are_finished_in_any_order_make_the_same_folder() {
    let names: Vec<String> = (0..40).map(|n| format!("{n:02}.pdf")).collect();
    let kit = sample(1).with(names.iter().map(|name| file(name, &format!("words of {name}"))).collect());
    let folder = tempfile::tempdir().unwrap();
    let sink = FolderSink::new(&Machine, folder.path());
    std::thread::scope(|scope| {
        for third in 0..3 {
            let (sink, kit) = (&sink, &kit);
            let own = kit.files.iter().rev().skip(third).step_by(3);
            scope.spawn(move || own.for_each(|file| sink.put(&file.name, &file.bytes).unwrap()));
        }
    });
    assert!(sink.put("07.pdf", b"another").unwrap_err().cause.contains("two documents"));
    finish(sink, Manifest::of(&kit), Scope::Whole).unwrap();
    assert_eq!(files(folder.path()), written(&kit));
}

/// The disk is waited for by many files at once, while they come and at the end: a fault there leaves the old kit as any other does.
#[test]
fn a_disk_that_fails_among_many_files_leaves_the_folder_as_it_was() {
    let names: Vec<String> = (0..150).map(|n| format!("{n:03}.pdf")).collect();
    let kit = sample(2).with(names.iter().map(|name| file(name, &format!("words of {name}"))).collect());
    let refused = refused_when_full(&kit, 29);
    assert!(refused >= 15, "{refused}");
}

/// What somebody puts into the folder, or changes in it, while a build is at work is found before anything takes its place.
#[test]
fn what_is_changed_while_a_build_is_at_work_is_nobodys_to_replace() {
    let harms: [(&str, &str, &str); 2] =
        [("mine.txt", "mine", "was not written by"), ("a.pdf", "a, with a note", "was changed after")];
    for (name, words, said) in harms {
        let folder = tempfile::tempdir().unwrap();
        save(&sample(1), folder.path());
        let sink = FolderSink::new(&Machine, folder.path());
        let new = sample(2);
        new.files.iter().for_each(|file| sink.put(&file.name, &file.bytes).unwrap());
        std::fs::write(folder.path().join(name), words).unwrap();
        let mut before = files(folder.path());
        before.retain(|name, _| !name.ends_with(".part"));
        let failure = finish(sink, Manifest::of(&new), Scope::Whole).unwrap_err();
        assert!(failure.path.ends_with(name) && failure.cause.contains(said), "{failure}");
        assert_eq!(files(folder.path()), before);
    }
}

/// One waits for a folder that the other had made and takes away again: it makes it anew, and holds that.
#[cfg(unix)]
#[test]
fn a_folder_that_is_taken_away_under_one_who_waits_is_made_again() {
    let desk = tempfile::tempdir().unwrap();
    let folder = desk.path().join("kit");
    let first = FolderSink::new(&Machine, &folder);
    first.put("a.pdf", b"a").unwrap();
    let waiting = {
        let folder = folder.clone();
        std::thread::spawn(move || write(&Machine, &sample(2), &folder, Scope::Whole))
    };
    std::thread::sleep(Duration::from_millis(150));
    drop(first);
    waiting.join().unwrap().unwrap();
    assert_eq!(files(&folder), written(&sample(2)));
}

#[test]
fn a_second_file_of_one_name_and_a_name_with_a_folder_are_refused_and_leave_the_folder_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    save(&sample(1), folder.path());
    let before = files(folder.path());
    let mut twice = sample(2);
    twice.files.push(file("a.pdf", "the coordinator's copy"));
    let failure = write(&Machine, &twice, folder.path(), Scope::Whole).unwrap_err();
    assert!(failure.path.ends_with("a.pdf") && failure.cause.contains("two documents"), "{failure}");
    assert_eq!(files(folder.path()), before);
    let mut elsewhere = sample(2);
    elsewhere.files.push(file("../a.pdf", "outside"));
    let failure = write(&Machine, &elsewhere, folder.path(), Scope::Whole).unwrap_err();
    assert!(failure.cause.contains("not a plain file name"), "{failure}");
    assert_eq!(files(folder.path()), before);
}

#[cfg(unix)]
#[test]
fn one_holds_a_folder_and_the_second_is_told_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let held = standing(folder.path()).unwrap();
    let failure = standing(folder.path()).err().unwrap();
    assert!(failure.cause.contains("another run is still at work") && failure.cause.contains("type the same again"));
    drop(held);
    standing(folder.path()).unwrap();
    assert!(files(folder.path()).is_empty(), "a lock leaves nothing");
}

/// A desk with a folder whose first kit is exchanged for the second on a disk; none where none are exchanged.
fn exchanged(disk: Disk) -> Option<(TempDir, PathBuf)> {
    if !exchanges() {
        return None;
    }
    let desk = tempfile::tempdir().unwrap();
    let folder = desk.path().join("kit");
    save(&sample(1), &folder);
    write(&Faulty::new(Fault::Dead, usize::MAX).on(disk), &sample(2), &folder, Scope::Whole).unwrap();
    Some((desk, folder))
}

/// Somebody's file that comes in the last moment is not gone with the old edition.
#[test]
fn what_is_put_into_a_folder_as_it_is_exchanged_stands_in_the_new_one() {
    let Some((desk, folder)) = exchanged(Disk::Slips("mine.txt")) else { return };
    let mut after = written(&sample(2));
    after.insert("mine.txt".to_owned(), b"mine".to_vec());
    assert_eq!(files(&folder), after);
    assert_eq!(std::fs::read_dir(desk.path()).unwrap().count(), 1);
}

/// Nor is a folder that somebody put in the place of the one that was held.
#[test]
fn a_folder_that_was_replaced_as_it_is_exchanged_is_kept() {
    let Some((desk, folder)) = exchanged(Disk::Replaces("a.pdf")) else { return };
    let theirs = || files(&desk.path().join(".fieldsheaf-kit.next")).remove("a.pdf");
    assert_eq!(files(&folder), written(&sample(2)));
    assert_eq!(files(&folder.with_extension("away")), written(&sample(1)));
    assert_eq!(theirs().unwrap(), b"mine");
    // It stands in the way of the next, which goes on without.
    save(&sample(3), &folder);
    assert_eq!(files(&folder), written(&sample(3)));
    assert_eq!(theirs().unwrap(), b"mine");
}

const DOCUMENT: &str = "[[document]]\nid = \"list\"\nkind = \"channel-plan\"\naudience = \"team\"\n";

const CHANNEL: &str = r#"
[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
"#;

/// Every call by which a plan is read, refused, cut short or the last: a failure or a finding, or the same kit, never another kit.
#[test]
fn a_fault_at_any_call_of_reading_never_makes_another_kit() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("parts")).unwrap();
    let root = format!("include = [\"parts/*.toml\"]\n{HEAD}{DOCUMENT}");
    std::fs::write(folder.path().join("plan.toml"), root).unwrap();
    std::fs::write(folder.path().join("parts/channels.toml"), CHANNEL).unwrap();
    let (world, root) = DiskWorld::open(folder.path()).unwrap();
    let kit_of = |outcome: Result<(fieldsheaf::Outcome, Option<Kit>), fieldsheaf::Halt>| match outcome {
        Ok((outcome, kit)) => {
            assert!(kit.is_some() || outcome.findings.errors() > 0);
            kit
        }
        Err(fieldsheaf::Halt::Failure(failure)) => {
            assert!(!failure.cause.is_empty());
            None
        }
        Err(fieldsheaf::Halt::Bug(bug)) => panic!("{bug}"),
    };
    let build = |world: &DiskWorld<'_>| fieldsheaf::build(world, &root, &Wanted::default(), &|_, _| {});
    let sound = kit_of(build(&world)).unwrap();
    for fault in
        [Fault::Once(ErrorKind::PermissionDenied), Fault::Once(ErrorKind::Interrupted), Fault::Short, Fault::Dead]
    {
        let mut withheld = 0;
        for at in 0.. {
            let calls = Faulty::new(fault, at);
            let kit = DiskWorld::through(&calls, folder.path()).ok().and_then(|(world, _)| kit_of(build(&world)));
            match kit {
                Some(kit) => assert_eq!(kit, sound, "{fault:?} at call {at}"),
                None => withheld += 1,
            }
            if !calls.struck() {
                assert!(at >= 9, "{at} calls");
                break;
            }
        }
        assert!(withheld >= 2, "{fault:?}: {withheld}");
    }
}

/// Nothing on paper knows the day: a machine whose clock stands at 1970 makes the same kit.
#[test]
fn a_machine_without_a_clock_makes_the_same_kit() {
    struct Timeless(Shelf);
    impl World for Timeless {
        fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault> {
            self.0.read(path, limit)
        }
        fn list(&self) -> Result<Vec<String>, Failure> {
            self.0.list()
        }
        fn today(&self) -> chrono::NaiveDate {
            chrono::NaiveDate::default()
        }
    }
    let shelf = Shelf::new().with("plan.toml", format!("{HEAD}{CHANNEL}{DOCUMENT}"));
    let build = |world: &dyn World| {
        let built = fieldsheaf::build(world, "plan.toml", &Wanted::default(), &|_, _| {});
        built.map_err(|_| "halted").unwrap().1.unwrap()
    };
    assert_eq!(build(&shelf), build(&Timeless(shelf.clone())));
}
