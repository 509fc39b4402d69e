//! The command that issues an edition, killed at any moment: the ledger, the plan as issued and every file are whole, old or new, and
//! the next run completes it.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "these tests are about the disk")]

use crate::support::desk::{Desk, listing};
use fieldsheaf::ground::{Files, Findings};
use fieldsheaf::ledger::{Editions, Manifest, sha256};
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let names = listing(folder).into_iter().filter(|name| !name.starts_with('.') && !name.ends_with(".part"));
    names.map(|name| (name.clone(), std::fs::read(folder.join(name)).unwrap())).collect()
}

/// A plan with its first edition issued, and a second one written.
fn second() -> Desk {
    let desk = Desk::with_plan();
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
    desk.edit("plan/channels.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    desk.edit("plan/plan.toml", "number = 1\n", "number = 2\n");
    desk
}

fn start(desk: &Desk) -> std::process::Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
    command.args(["issue", "plan", "--out", "kit"]).current_dir(desk.folder.path());
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
}

/// The number of editions that a ledger has; a damaged one has a finding.
fn issued(desk: &Desk) -> usize {
    let shelf = crate::support::shelf::Shelf::new().with("editions.toml", desk.read("plan/editions.toml"));
    let mut found = Findings::default();
    let editions = Editions::read(&shelf, &mut Files::default(), &mut found).unwrap();
    assert_eq!(found.errors(), 0, "{}", desk.read("plan/editions.toml"));
    editions.issued.len()
}

#[test]
fn an_issue_killed_at_fifty_moments_leaves_all_whole_and_the_next_completes_it() {
    let whole = second();
    let old = files(&whole.path("kit"));
    let ledger = whole.read("plan/editions.toml");
    let begun = Instant::now();
    assert!(start(&whole).wait().unwrap().success());
    let took = begun.elapsed();
    let (new, entered) = (files(&whole.path("kit")), whole.read("plan/editions.toml"));
    let mut ends = BTreeMap::from([("before", 0), ("between", 0), ("after", 0)]);
    for kill in 0..50_u32 {
        let desk = second();
        let mut child = start(&desk);
        // Most of the time is reckoning: the last third, in which files are written, is tried more closely.
        let at = if kill < 15 { took * kill / 22 } else { took * (kill + 20) / 60 };
        std::thread::sleep(at);
        let _ = child.kill();
        child.wait().unwrap();
        let now = desk.read("plan/editions.toml");
        assert!(now == ledger || now == entered, "the ledger is torn after {at:?}: {now}");
        assert!(entered.starts_with(&ledger), "what was entered stays");
        for (name, bytes) in files(&desk.path("kit")) {
            let is_whole = old.get(&name) == Some(&bytes) || new.get(&name) == Some(&bytes);
            assert!(is_whole, "{name} is torn after {at:?}");
        }
        if let Ok(text) = std::fs::read_to_string(desk.path("plan/issued/2.toml")) {
            assert_eq!(text, whole.read("plan/issued/2.toml"), "after {at:?}");
        }
        let end = match (now == entered, files(&desk.path("kit")) == old) {
            (true, _) => "after",
            (false, true) => "before",
            (false, false) => "between",
        };
        *ends.get_mut(end).unwrap() += 1;
        desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
        assert_eq!(issued(&desk), 2);
        assert_eq!(files(&desk.path("kit")), new);
        assert_eq!(desk.read("plan/editions.toml"), entered);
        let plan = desk.read("plan/issued/2.toml");
        assert!(entered.contains(&format!("plan = \"{}\"", sha256(plan.as_bytes()))));
        desk.run(&["verify", "kit", "--plan", "plan"]).exits(0);
    }
    assert!(ends["before"] > 0, "{ends:?}");
}

/// Two who issue into one folder at once: one edition is entered once, and the folder is that of one of them.
#[test]
fn two_who_issue_at_once_enter_one_edition() {
    for _ in 0..4 {
        let desk = second();
        let [mut one, mut other] = [start(&desk), start(&desk)];
        let ends = [one.wait().unwrap().code(), other.wait().unwrap().code()];
        assert!(ends.contains(&Some(0)), "{ends:?}");
        assert_eq!(issued(&desk), 2, "{ends:?}");
        let manifest = Manifest::parse(&desk.read("kit/MANIFEST.toml")).unwrap();
        assert_eq!(manifest.edition, 2);
        desk.run(&["verify", "kit", "--plan", "plan"]).exits(0);
        std::thread::sleep(Duration::from_millis(1));
    }
}

/// A ledger that was changed by hand is a finding with its place, and no command writes over it.
#[test]
fn a_ledger_changed_by_hand_is_told_and_never_written_over() {
    let desk = second();
    let text = desk.read("plan/editions.toml");
    let other = text.replacen("audience = \"team\"", "audience = \"public\"", 1);
    assert_ne!(other, text);
    let cut = text[..text.len() / 2].to_owned();
    for damaged in [other, cut, text.replace("number = 1", "number = 2"), format!("{text}\n# a note\n[[issued]]\n")] {
        desk.file("plan/editions.toml", &damaged);
        desk.run(&["issue", "plan", "--out", "kit"]).exits(1).says("editions.toml");
        assert_eq!(desk.read("plan/editions.toml"), damaged);
        assert!(!desk.path("plan/issued/2.toml").exists());
    }
    desk.file("plan/editions.toml", &text);
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
}
