//! A folder that takes another's place in one step, on a real disk: what it keeps of the old one, and where none is made.
#![cfg(target_os = "linux")]
#![allow(clippy::disallowed_methods, reason = "these tests are about the disk")]

use crate::support::desk::{Desk, listing};
use crate::support::faulty::exchanges;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
use std::path::Path;
use std::process::Command;

const NEXT: &str = ".fieldsheaf-kit.next";

fn number(folder: &Path) -> u64 {
    std::fs::metadata(folder).unwrap().ino()
}

fn edition(desk: &Desk, number: u32) {
    desk.edit("plan/plan.toml", &format!("number = {}", number - 1), &format!("number = {number}"));
}

/// A desk with a kit of edition 7, and the plan of edition 8.
fn with_old_kit() -> Desk {
    let desk = Desk::new();
    let head = crate::support::shelf::head(&[("EXAMPLE", "ALDER")]);
    let records =
        "[[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC\"\nspoken = \"Tactical One\"\nsimplex = \"146.5500 MHz\"\n";
    let document = "[[document]]\nid = \"plan\"\nkind = \"channel-plan\"\naudience = \"coordinator\"\n";
    desk.file("plan/plan.toml", head + records + document);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    edition(&desk, 8);
    desk
}

fn holds_edition_8(desk: &Desk) {
    desk.run(&["verify", "kit"]).exits(0).says("ALDER edition 8").says("all as written");
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "plan.pdf"]);
}

#[test]
fn the_new_folder_has_the_mode_of_the_old_and_nothing_is_left_beside_it() {
    let desk = with_old_kit();
    let kit = desk.path("kit");
    std::fs::set_permissions(&kit, std::fs::Permissions::from_mode(0o2750)).unwrap();
    let old = number(&kit);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    holds_edition_8(&desk);
    assert_eq!(std::fs::metadata(&kit).unwrap().permissions().mode() & 0o7777, 0o2750);
    assert_eq!(listing(desk.folder.path()), ["kit", "plan"]);
    assert_eq!(number(&kit) != old, exchanges());
}

/// Through a link the folder is written to which it leads; the link stays.
#[test]
fn a_link_to_a_folder_stays_one() {
    let desk = with_old_kit();
    symlink("kit", desk.path("link")).unwrap();
    desk.run(&["build", "plan", "--out", "link"]).exits(0);
    holds_edition_8(&desk);
    assert!(std::fs::symlink_metadata(desk.path("link")).unwrap().is_symlink());
}

/// Whoever builds from inside the folder would stand in one that is gone.
#[test]
fn a_folder_in_which_the_program_runs_stays_the_same_folder() {
    let desk = with_old_kit();
    let kit = desk.path("kit");
    let old = number(&kit);
    let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
    let ran = command.args(["build", "../plan", "--out", "."]).current_dir(&kit).output().unwrap();
    assert!(ran.status.success(), "{ran:?}");
    holds_edition_8(&desk);
    assert_eq!(number(&kit), old);
}

/// What stands where the new folder would be filled: a link to a kit is not followed, and a kit that a stopped run left is removed.
#[test]
fn what_stands_in_the_way_of_the_new_folder_is_followed_nowhere_and_removed_where_it_is_ours() {
    let desk = with_old_kit();
    desk.run(&["build", "plan", "--out", "other"]).exits(0);
    symlink("other", desk.path(NEXT)).unwrap();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0).says(NEXT).says("this is no folder");
    holds_edition_8(&desk);
    assert_eq!(listing(&desk.path("other")), ["MANIFEST.toml", "plan.pdf"]);
    std::fs::remove_file(desk.path(NEXT)).unwrap();
    std::fs::rename(desk.path("other"), desk.path(NEXT)).unwrap();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    holds_edition_8(&desk);
    assert_eq!(listing(desk.folder.path()), ["kit", "plan"]);
    desk.run(&["build", "plan", "--out", NEXT]).exits(2).says("names that begin with .fieldsheaf-");
}

/// Somebody's file or folder there: files take their places one by one, and a line says why.
#[test]
fn where_no_new_folder_can_be_made_files_take_their_places_one_by_one() {
    for mine in [NEXT.to_owned(), format!("{NEXT}/mine.txt")] {
        let desk = with_old_kit();
        desk.file(&mine, "mine");
        let old = number(&desk.path("kit"));
        desk.run(&["build", "plan", "--out", "kit"]).exits(0).says(NEXT).says("files take their places one by one");
        holds_edition_8(&desk);
        assert_eq!((number(&desk.path("kit")), desk.read(&mine).as_str()), (old, "mine"));
    }
}

/// Parts that a killed build left beside the old edition change nothing of it.
#[test]
fn an_edition_beside_which_parts_were_left_is_whole() {
    let desk = with_old_kit();
    desk.file("kit/.fieldsheaf-left.part", "half a file");
    desk.run(&["verify", "kit"]).exits(0).says("stopped before it changed anything").says("all as written");
    desk.file("kit/.fieldsheaf-unfinished", "");
    desk.run(&["verify", "kit"]).exits(1).says("build again to complete it");
}

#[test]
fn whoever_stands_in_a_folder_that_is_gone_is_told_so() {
    let desk = with_old_kit();
    let program = env!("CARGO_BIN_EXE_fieldsheaf");
    for command in ["verify .", "build ../plan --out ."] {
        desk.run(&["build", "plan", "--out", "here"]).exits(0);
        let script = format!("rm -r ../here; exec {program} {command}");
        let ran = Command::new("sh").args(["-c", &script]).current_dir(desk.path("here")).output().unwrap();
        let said = String::from_utf8(ran.stderr).unwrap();
        assert!(ran.status.code() == Some(2) && said.contains("enter it again"), "{command}: {said}");
    }
}

/// What stays of the same edition is the same file, not a copy.
#[test]
fn a_part_of_an_edition_keeps_the_files_that_stay() {
    let desk = with_old_kit();
    let chart = "[[document]]\nid = \"chart\"\nkind = \"frequency-chart\"\naudience = \"team\"\n";
    desk.file("plan/plan.toml", desk.read("plan/plan.toml") + chart);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let old = ["plan.pdf", "chart.pdf"].map(|name| number(&desk.path("kit").join(name)));
    desk.run(&["build", "plan", "--out", "kit", "--only", "frequency-chart"]).exits(0);
    let new = ["plan.pdf", "chart.pdf"].map(|name| number(&desk.path("kit").join(name)));
    assert!(old[0] == new[0] && old[1] != new[1]);
    assert_eq!(std::fs::metadata(desk.path("kit/plan.pdf")).unwrap().nlink(), 1);
    desk.run(&["verify", "kit"]).exits(0).says("2 files, all as written");
}
