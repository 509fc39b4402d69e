//! What stands on the disk against us: links laid out beforehand, pipes and endless files, somebody else's files, another run at the
//! same time, a program that is killed. The program answers soon, and nobody's file changes.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "these tests are about the disk")]

use crate::support::desk::{Desk, Ran, listing};
use crate::support::faulty::exchanges;
use crate::support::shelf::head;
use fieldsheaf::ground::caps::{CAPS, Cap};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A plan of one chart: quick to build.
fn small(edition: u32, name: &str) -> String {
    let records = r#"
[[channel]]
id = "tac"
row = 1
name = "TAC"
spoken = "Tactical One"
simplex = "146.5500 MHz"
[[document]]
id = "chart"
kind = "frequency-chart"
audience = "team"
[[document]]
id = "plan"
kind = "channel-plan"
audience = "coordinator"
"#;
    let head = head(&[("EXAMPLE", "ALDER"), ("number = 7", &format!("number = {edition}"))]);
    head + &records.replace("name = \"TAC\"", &format!("name = \"{name}\""))
}

fn with_small_plan() -> Desk {
    let desk = Desk::new();
    desk.file("plan/plan.toml", small(7, "TAC 1"));
    desk
}

fn mode(path: &Path) -> u32 {
    std::fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn set_mode(path: &Path, mode: u32) {
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
}

fn is_link(path: &Path) -> bool {
    std::fs::symlink_metadata(path).unwrap().is_symlink()
}

/// Runs the program for twenty seconds at most: an answer that does not come is a fault.
fn soon(desk: &Desk, arguments: &[&str]) -> Ran {
    let mut child = start(desk, arguments);
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if begun.elapsed() > Duration::from_secs(20) {
            child.kill().unwrap();
            panic!("no answer from {arguments:?}");
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    Ran(child.wait_with_output().unwrap())
}

fn start(desk: &Desk, arguments: &[&str]) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
    command.args(arguments).current_dir(desk.folder.path()).stdin(Stdio::null());
    command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
}

/// A plan with one channel that wants a frequency.
fn wanting() -> Desk {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "simplex = \"147.420 MHz\"", "simplex = \"allot\"\npool = \"simplex\"");
    let pool = "[[pool]]\nid = \"simplex\"\nfrequencies = [\"147.450 MHz\", \"147.480 MHz\"]\n\n[edition]";
    desk.edit("plan/plan.toml", "[edition]", pool);
    desk
}

#[test]
fn allot_writes_through_no_link_that_was_laid_out_and_keeps_mode_and_neighbours() {
    let desk = wanting();
    desk.file("precious.txt", "mine");
    symlink(desk.path("precious.txt"), desk.path("plan/channels.toml.part")).unwrap();
    set_mode(&desk.path("plan/channels.toml"), 0o600);
    desk.run(&["allot", "plan", "--write"]).exits(0).says("channels.toml: written");
    assert_eq!(desk.read("precious.txt"), "mine");
    assert!(is_link(&desk.path("plan/channels.toml.part")));
    assert!(desk.read("plan/channels.toml").contains("simplex = \"147.450 MHz\"\npool = \"simplex\""));
    assert_eq!(mode(&desk.path("plan/channels.toml")), 0o600);
    let names = listing(&desk.path("plan"));
    assert_eq!(names, ["channels.toml", "channels.toml.part", "people.csv", "places.toml", "plan.toml"]);
}

#[test]
fn allot_keeps_a_file_that_ends_in_part_and_writes_where_a_link_inside_leads() {
    let desk = wanting();
    desk.file("plan/channels.toml.part", "half a thought");
    std::fs::create_dir(desk.path("plan/shared")).unwrap();
    std::fs::rename(desk.path("plan/channels.toml"), desk.path("plan/shared/real.toml")).unwrap();
    symlink("shared/real.toml", desk.path("plan/channels.toml")).unwrap();
    desk.run(&["allot", "plan", "--write"]).exits(0);
    assert!(is_link(&desk.path("plan/channels.toml")));
    assert!(desk.read("plan/shared/real.toml").contains("simplex = \"147.450 MHz\""));
    assert_eq!(desk.read("plan/channels.toml.part"), "half a thought");
}

#[test]
fn a_form_replaces_nothing_unasked_and_writes_through_no_link() {
    let desk = Desk::new();
    desk.file("precious.txt", "mine").file("log.pdf", "an older log");
    symlink("precious.txt", desk.path("log.pdf.part")).unwrap();
    set_mode(&desk.path("log.pdf"), 0o640);
    desk.run(&["form", "log", "--out", "log.pdf"]).exits(2).says("log.pdf").says("--replace");
    assert_eq!(desk.read("log.pdf"), "an older log");
    desk.run(&["form", "log", "--out", "log.pdf", "--replace"]).exits(0);
    assert!(std::fs::read(desk.path("log.pdf")).unwrap().starts_with(b"%PDF-1.7"));
    assert_eq!((mode(&desk.path("log.pdf")), desk.read("precious.txt").as_str()), (0o640, "mine"));
    // A link is a file of this name; written over, it keeps leading where it led.
    symlink("precious.txt", desk.path("link.pdf")).unwrap();
    symlink("nowhere.pdf", desk.path("loose.pdf")).unwrap();
    desk.run(&["form", "log", "--out", "link.pdf"]).exits(2).says("--replace");
    desk.run(&["form", "log", "--out", "loose.pdf"]).exits(2).says("--replace");
    assert_eq!(desk.read("precious.txt"), "mine");
    desk.run(&["form", "log", "--out", "link.pdf", "--replace"]).exits(0);
    assert!(is_link(&desk.path("link.pdf")));
    assert!(std::fs::read(desk.path("precious.txt")).unwrap().starts_with(b"%PDF-1.7"));
    std::fs::create_dir(desk.path("folder")).unwrap();
    desk.run(&["form", "log", "--out", "folder", "--replace"]).exits(2).says("not a file");
    assert_eq!(
        listing(desk.folder.path()),
        ["folder", "link.pdf", "log.pdf", "log.pdf.part", "loose.pdf", "precious.txt"]
    );
}

#[test]
fn a_form_goes_to_standard_output_and_to_a_file_of_the_usual_mode() {
    let desk = Desk::new();
    let ran = desk.run(&["form", "log", "--out", "-"]).exits(0);
    assert!(ran.0.stdout.starts_with(b"%PDF-1.7") && ran.0.stderr.is_empty());
    desk.run(&["form", "log", "--out", "log.pdf"]).exits(0);
    assert_eq!(std::fs::read(desk.path("log.pdf")).unwrap(), ran.0.stdout);
    desk.file("usual.txt", "");
    assert_eq!(mode(&desk.path("log.pdf")), mode(&desk.path("usual.txt")));
    assert_eq!(listing(desk.folder.path()), ["log.pdf", "usual.txt"]);
}

#[test]
fn a_line_in_the_journal_makes_nobodys_file_ours() {
    let desk = with_small_plan();
    let hash = "0".repeat(64);
    for journal in ["thesis.doc\n", &format!("{hash} 4 thesis.doc\n")] {
        desk.file("kit/thesis.doc", "mine").file("kit/.fieldsheaf-unfinished", journal);
        desk.run(&["build", "plan", "--out", "kit"]).exits(2).says("thesis.doc").says("move it away");
        assert_eq!(listing(&desk.path("kit")), [".fieldsheaf-unfinished", "thesis.doc"]);
        assert_eq!(
            (desk.read("kit/thesis.doc").as_str(), desk.read("kit/.fieldsheaf-unfinished").as_str()),
            ("mine", journal)
        );
    }
    // The same for a name that an older version gave to what it had not finished.
    desk.file("other/chart.pdf.part", "mine").file("other/.fieldsheaf-unfinished", "chart.pdf\n");
    desk.run(&["build", "plan", "--out", "other"]).exits(2).says("chart.pdf.part");
    assert_eq!(desk.read("other/chart.pdf.part"), "mine");
}

/// What a manifest or a journal must not be, and how it is made.
type Trap = (&'static str, fn(&Path));

const TRAPS: [Trap; 4] = [
    ("a pipe", |path| assert!(Command::new("mkfifo").arg(path).status().unwrap().success())),
    ("a link to a device without an end", |path| symlink("/dev/zero", path).unwrap()),
    ("eight gigabytes of nothing", |path| std::fs::File::create(path).unwrap().set_len(8 << 30).unwrap()),
    ("a folder", |path| std::fs::create_dir(path).unwrap()),
];

#[test]
fn a_pipe_a_device_and_a_huge_file_in_the_place_of_ours_are_refused_soon() {
    let desk = with_small_plan();
    for (what, make) in TRAPS {
        for name in ["MANIFEST.toml", ".fieldsheaf-unfinished"] {
            let place = desk.path("kit").join(name);
            std::fs::create_dir(desk.path("kit")).unwrap();
            make(&place);
            soon(&desk, &["build", "plan", "--out", "kit"]).exits(2).says(name);
            if name == "MANIFEST.toml" {
                soon(&desk, &["verify", "kit"]).exits(2).says(name);
            }
            assert_eq!(listing(&desk.path("kit")), [name], "{what}");
            std::fs::remove_dir_all(desk.path("kit")).unwrap();
        }
    }
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    for (what, make) in TRAPS {
        let place = desk.path("kit/chart.pdf");
        let _ = std::fs::remove_file(&place);
        make(&place);
        soon(&desk, &["verify", "kit"]).exits(1).says("changed  chart.pdf\n").says("1 difference");
        soon(&desk, &["build", "plan", "--out", "kit"]).exits(2).says("chart.pdf").says("move it away");
        assert!(std::fs::symlink_metadata(&place).is_ok(), "{what}");
    }
}

#[test]
fn a_second_build_waits_for_the_first() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let held = std::fs::File::open(desk.path("kit")).unwrap();
    held.try_lock().unwrap();
    let second = start(&desk, &["build", "plan", "--out", "kit"]);
    std::thread::sleep(Duration::from_millis(1500));
    let manifest = desk.path("kit/MANIFEST.toml");
    let before = std::fs::metadata(&manifest).unwrap().modified().unwrap();
    drop(held);
    Ran(second.wait_with_output().unwrap()).exits(0).says("another run is at work in this folder; waiting");
    assert!(std::fs::metadata(&manifest).unwrap().modified().unwrap() > before, "it had waited");
    desk.run(&["verify", "kit"]).exits(0);
}

/// Two plans of one edition, over and over at the same time: both runs end well, and the folder is whole as one of them wrote it.
#[test]
fn two_builds_at_once_never_mix() {
    let desk = with_small_plan();
    desk.file("other/plan.toml", small(7, "TAC 2"));
    desk.run(&["build", "plan", "--out", "one"]).exits(0);
    desk.run(&["build", "other", "--out", "two"]).exits(0);
    let alone = [desk.read("one/MANIFEST.toml"), desk.read("two/MANIFEST.toml")];
    assert_ne!(alone[0], alone[1]);
    for pair in 0..10 {
        let runs =
            [start(&desk, &["build", "plan", "--out", "kit"]), start(&desk, &["build", "other", "--out", "kit"])];
        for run in runs {
            Ran(run.wait_with_output().unwrap()).exits(0);
        }
        assert!(alone.contains(&desk.read("kit/MANIFEST.toml")), "pair {pair}");
        assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "chart.pdf", "plan.pdf"]);
        desk.run(&["verify", "kit"]).exits(0);
    }
}

/// `kill -9` at twenty moments spread over a build: the folder verifies, or says that a build was stopped; the next completes it.
/// Where folders can be exchanged, all files are of one edition.
#[test]
fn a_build_that_is_killed_is_completed_by_the_next() {
    let (desk, exchanges) = (with_small_plan(), exchanges());
    let begun = Instant::now();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let whole = begun.elapsed();
    // Editions 7 and on, each with other bytes, so that a mixture would show.
    for round in 0..20_u32 {
        desk.file("plan/plan.toml", small(8 + round, "TAC 1"));
        let mut child = start(&desk, &["build", "plan", "--out", "kit"]);
        // Steps that share no divisor with twenty fall all over the run, its last third, where files are written, twice as often.
        let twentieth = if round % 2 == 0 { round * 7 % 20 } else { 13 + round * 3 % 7 };
        std::thread::sleep(whole * twentieth / 20);
        child.kill().unwrap();
        child.wait().unwrap();
        let ran = desk.run(&["verify", "kit"]);
        let is_whole = ran.said().contains("all as written") && ran.0.status.code() == Some(0);
        let is_stopped = ran.said().contains("a build was stopped in this folder") && ran.0.status.code() == Some(1);
        let differs = ["changed  ", "missing  ", "extra    "].iter().any(|word| ran.said().contains(word));
        assert!(is_whole || (is_stopped && !(exchanges && differs)), "round {round}: {}", ran.said());
        desk.run(&["build", "plan", "--out", "kit"]).exits(0);
        desk.run(&["verify", "kit"]).exits(0).says(&format!("ALDER edition {}", 8 + round)).says("all as written");
        assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "chart.pdf", "plan.pdf"]);
    }
}

#[test]
fn a_part_of_an_edition_leaves_the_other_files() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let whole = desk.read("kit/MANIFEST.toml");
    let kit = ["MANIFEST.toml", "chart.pdf", "plan.pdf"];
    for part in [["--only", "frequency-chart"], ["--audience", "team"], ["--audience", "coordinator"]] {
        desk.run(&["build", "plan", "--out", "kit", part[0], part[1]]).exits(0);
        assert_eq!(listing(&desk.path("kit")), kit, "{part:?}");
        assert_eq!(desk.read("kit/MANIFEST.toml"), whole, "{part:?}");
        desk.run(&["verify", "kit"]).exits(0).says("2 files, all as written");
    }
    // Part by part they come to the same.
    desk.run(&["build", "plan", "--out", "parts", "--only", "frequency-chart"]).exits(0);
    assert_eq!(listing(&desk.path("parts")), ["MANIFEST.toml", "chart.pdf"]);
    desk.run(&["build", "plan", "--out", "parts", "--only", "channel-plan"]).exits(0);
    assert_eq!(desk.read("parts/MANIFEST.toml"), whole);
    let member = "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
    desk.file("plan/plan.toml", small(7, "TAC 1") + member);
    desk.run(&["build", "plan", "--out", "kit", "--for", "qra"]).exits(0);
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "card-qra.pdf", "chart.pdf", "plan.pdf"]);
}

#[test]
fn a_part_that_would_mix_editions_is_refused_with_what_to_type() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let before = desk.read("kit/MANIFEST.toml");
    let part = ["build", "plan", "--out", "kit", "--only", "frequency-chart"];
    let refused = |words: &str| {
        let ran = desk.run(&part).exits(2).says(words);
        ran.says("build without --only, --for and --audience, or write `--out kit-new`");
        assert_eq!(listing(&desk.path("kit")).len(), desk.read("kit/MANIFEST.toml").matches("[[file]]").count() + 1);
    };
    desk.file("plan/plan.toml", small(8, "TAC 1"));
    refused("this folder holds edition 7 of ALDER; a part of edition 8 may not mix with it");
    assert_eq!(desk.read("kit/MANIFEST.toml"), before);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    // One of the others is gone: what the manifest would say is no longer so.
    std::fs::remove_file(desk.path("kit/plan.pdf")).unwrap();
    let ran = desk.run(&part).exits(2).says("plan.pdf of edition 8 of ALDER does not stand here as it was written");
    ran.says("build without --only");
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "chart.pdf"]);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    desk.run(&["verify", "kit"]).exits(0);
}

#[test]
fn another_plans_folder_and_a_lower_edition_are_refused_with_what_to_type() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let before = desk.read("kit/MANIFEST.toml");
    desk.file("other/plan.toml", small(9, "TAC 1").replace("short = \"ALDER\"", "short = \"BIRCH\""));
    let ran = desk.run(&["build", "other", "--out", "kit"]).exits(2);
    ran.says("this folder holds edition 7 of ALDER, another plan than BIRCH; write `--out kit-new`");
    // Two counties may choose one short name.
    for (key, theirs, ours) in [("title", "Example plan", "Elder plan"), ("team", "Example team", "Elder team")] {
        desk.file("other/plan.toml", small(9, "TAC 1").replace(theirs, ours));
        let ran = desk.run(&["build", "other", "--out", "kit"]).exits(2);
        ran.says(&format!(
            "this folder holds edition 7 of ALDER, whose {key} is \"{theirs}\", and this plan's is \"{ours}\"; write `--out kit-new`"
        ));
    }
    desk.file("plan/plan.toml", small(6, "TAC 1"));
    let ran = desk.run(&["build", "plan", "--out", "kit/"]).exits(2);
    ran.says("this folder holds edition 7 of ALDER, and this is edition 6; write `number = 8` in [edition], or `--out kit-new`");
    assert_eq!(desk.read("kit/MANIFEST.toml"), before);
    desk.run(&["verify", "kit"]).exits(0);
    // What it says to type works.
    desk.run(&["build", "plan", "--out", "kit-new"]).exits(0);
    desk.file("plan/plan.toml", small(8, "TAC 1"));
    desk.run(&["build", "plan", "--out", "kit"]).exits(0).says("ALDER edition 8");
}

#[test]
fn a_new_edition_keeps_the_mode_of_what_it_replaces() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    set_mode(&desk.path("kit/plan.pdf"), 0o400);
    desk.file("plan/plan.toml", small(8, "TAC 1"));
    let usual = mode(&desk.path("kit/chart.pdf"));
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    assert_eq!((mode(&desk.path("kit/plan.pdf")), mode(&desk.path("kit/chart.pdf"))), (0o400, usual));
    desk.run(&["verify", "kit"]).exits(0).says("edition 8");
}

#[test]
fn a_file_name_with_a_line_end_forges_no_line() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    desk.file("kit/x\nALDER edition 7: 2 files, all as written", "");
    desk.file("kit/esc\u{1b}[2J", "");
    let ran = desk.run(&["verify", "kit"]).exits(1).says("2 differences");
    let lines: Vec<String> = ran.said().lines().map(str::to_owned).collect();
    assert_eq!(lines.len(), 3, "{lines:?}");
    assert!(lines[0].starts_with("extra    ") && lines[1].starts_with("extra    "), "{lines:?}");
    assert!(
        !ran.said().contains('\u{1b}')
            && lines.iter().all(|line| !line.starts_with("ALDER") || line.contains("2 differences"))
    );
}

#[test]
fn a_manifest_that_was_changed_is_told_by_verify_and_refused_by_build() {
    let desk = with_small_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let sound = desk.read("kit/MANIFEST.toml");
    let bytes = sound.lines().find(|line| line.starts_with("bytes = ")).unwrap();
    for (from, to) in [
        ("edition = 7", "edition = 8"),
        ("audience = \"team\"", "audience = \"public\""),
        (bytes, "bytes = 1"),
        ("plan = \"ALDER\"", "plan = \"BIRCH\""),
        ("kind = \"channel-plan\"", "kind = \"channel-card\""),
        ("\n", "\r\n"),
    ] {
        desk.file("kit/MANIFEST.toml", &sound);
        desk.edit("kit/MANIFEST.toml", from, to);
        let ran = desk.run(&["verify", "kit"]).exits(1).says("changed  MANIFEST.toml");
        assert!(!ran.said().contains("as written"), "{to}");
    }
    desk.run(&["build", "plan", "--out", "kit"])
        .exits(2)
        .says("kit/MANIFEST.toml")
        .says("changed after fieldsheaf wrote it");
    desk.file("kit/MANIFEST.toml", "[mine]\n");
    desk.run(&["verify", "kit"]).exits(2).says("was not written by fieldsheaf");
    desk.file("kit/MANIFEST.toml", &sound);
    desk.run(&["verify", "kit"]).exits(0);
}

#[test]
fn a_kit_inside_the_plans_folder_is_no_part_of_the_plan() {
    let desk = Desk::new();
    desk.file("plan/plan.toml", small(7, "TAC 1").replacen("[plan]", "include = [\"*/*.toml\"]\n[plan]", 1));
    let channel = "[[channel]]\nid = \"b\"\nrow = 2\nname = \"B\"\nspoken = \"Bravo\"\nsimplex = \"146.4000 MHz\"\n";
    desk.file("plan/more/channel.toml", channel);
    let first = desk.run(&["check", "plan", "--plan-only", "--format", "short"]).exits(0).said();
    desk.run(&["build", "plan", "--out", "plan/kit"]).exits(0);
    let after = desk.run(&["check", "plan", "--plan-only", "--format", "short"]).exits(0).said();
    assert_eq!(first, after);
    assert!(first.contains("more/channel.toml:2:6: warning[evidence-missing]"), "what is found there is read: {first}");
    desk.run(&["build", "plan", "--out", "plan/kit"]).exits(0);
    // Only what a build wrote is left out.
    desk.file("plan/own/MANIFEST.toml", "[[chanel]]\nid = \"x\"\n");
    desk.run(&["check", "plan", "--plan-only", "--format", "short"]).exits(1).says("own/MANIFEST.toml");
}

#[test]
fn proofs_inside_the_kit_and_the_kit_inside_the_proofs_are_refused_beforehand() {
    let desk = with_small_plan();
    for (out, proof) in [("kit", "kit/proofs"), ("proofs/kit", "proofs"), ("kit", "./x/../kit/p/q")] {
        let ran = desk.run(&["build", "plan", "--out", out, "--proof", proof]).exits(2);
        ran.says("proofs need a folder of their own, beside that of --out");
        assert_eq!(listing(desk.folder.path()), ["plan"]);
    }
    // Names that only begin alike are two folders.
    desk.run(&["build", "plan", "--out", "kit", "--proof", "kit-proofs", "--dpi", "36"]).exits(0);
    symlink("kit", desk.path("alias")).unwrap();
    let ran = desk.run(&["build", "plan", "--out", "kit", "--proof", "alias/proofs"]).exits(2);
    ran.says("proofs need a folder of their own, beside that of --out");
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "chart.pdf", "plan.pdf"]);
}

/// The guide states every cap by its figures, and no other.
#[test]
fn the_table_of_caps_is_that_of_the_program() {
    let guide = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md")).unwrap();
    let (_, table) = guide.split_once("| What is counted | Least | Most |\n|---|---|---|\n").unwrap();
    let stated: Vec<&str> = table.lines().take_while(|line| line.starts_with('|')).collect();
    let row = |cap: &&Cap| format!("| {} | {} | {} |", cap.of, cap.least, cap.most);
    assert_eq!(stated, CAPS.iter().map(row).collect::<Vec<String>>());
}

#[test]
fn numbers_that_leave_their_caps_are_refused_with_the_cap() {
    let desk = Desk::new();
    let form = |arguments: &[&str]| desk.run(&[&["form", "log", "--out", "log.pdf"], arguments].concat()).exits(2);
    form(&["--serial", "4294967295", "--copies", "2"]).says("999999999");
    let ran = form(&["--serial", "999999999", "--copies", "2"]);
    ran.says("2 copies would end at number 1000000000, and 999999999 is the highest");
    form(&["--copies", "1001"]).says("1..=1000");
    form(&["--copies", "65535"]).says("1..=1000");
    form(&["--copies", "0"]).says("1..=1000");
    let build = |arguments: &[&str]| desk.run(&[&["build", "--out", "kit"], arguments].concat()).exits(2);
    build(&["--threads", "257"]).says("1..=256");
    build(&["--threads", "5000"]).says("1..=256");
    build(&["--threads", "0"]).says("1..=256");
    build(&["--proof", "p", "--dpi", "601"]).says("36..=600");
    assert!(listing(desk.folder.path()).is_empty());
    desk.run(&["form", "log", "--out", "log.pdf", "--serial", "999999998", "--copies", "2"]).exits(0);
}

#[test]
fn more_copies_than_are_taken_are_a_finding_at_their_place() {
    let desk = Desk::new();
    let form = "[[document]]\nid = \"log\"\nkind = \"form\"\nform = \"log\"\naudience = \"public\"\ncopies = ";
    let line = small(7, "TAC 1").lines().count() + 6;
    for (copies, help) in [("1001", "1000"), ("65535", "1000"), ("0", "1")] {
        desk.file("plan/plan.toml", small(7, "TAC 1") + form + copies + "\n");
        let ran = desk.run(&["check", "plan", "--plan-only", "--format", "json"]).exits(1);
        let found: serde_json::Value = serde_json::from_slice(&ran.0.stdout).unwrap();
        let finding =
            found["findings"].as_array().unwrap().iter().find(|finding| finding["name"] == "bad-value").unwrap();
        let range = format!("{copies} stands where a whole number from 1 to 1000 is wanted");
        assert_eq!(finding["message"], range);
        assert_eq!((&finding["line"], &finding["help"]), (&line.into(), &format!("write {help}").into()));
    }
    desk.file("plan/plan.toml", small(7, "TAC 1") + form + "500\n");
    desk.run(&["check", "plan", "--plan-only"]).exits(0);
}

/// Whatever it is called, a file counts once: links and other spellings multiply nothing.
#[test]
fn a_file_under_many_names_is_read_once() {
    let desk = Desk::new();
    let names = ["net.toml", "./net.toml", "more/./net.toml", "more/net.toml", "link.toml", "links/net.toml", "*.toml"];
    let include = format!("include = {names:?}\n[plan]");
    desk.file("plan/plan.toml", small(7, "TAC 1").replacen("[plan]", &include, 1));
    desk.file("plan/net.toml", "[[nett]]\n");
    desk.file("plan/more/net.toml", "[[nett]]\n");
    symlink("net.toml", desk.path("plan/link.toml")).unwrap();
    symlink("more", desk.path("plan/links")).unwrap();
    let said = desk.run(&["check", "plan", "--plan-only", "--format", "short"]).exits(1).said();
    let found: Vec<&str> = said.lines().filter(|line| line.contains("unknown-record")).collect();
    assert_eq!(found.len(), 2, "{said}");
    assert!(found[0].contains("more/./net.toml:1:3") && found[1].contains("net.toml:1:3"), "{said}");
    // A link back to what includes it is a circle.
    symlink("plan.toml", desk.path("plan/back.toml")).unwrap();
    desk.edit("plan/plan.toml", "\"link.toml\"", "\"back.toml\"");
    desk.run(&["check", "plan", "--plan-only"]).exits(1).says("include goes in a circle: plan.toml > back.toml");
}
