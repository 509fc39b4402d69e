//! How long a thousand numbered messages take, two on a sheet, and the papers of an exercise: `cargo bench --bench forms`. The aim is a
//! second each.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    reason = "a bench measures, and says so"
)]

use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The shortest of five runs: other work on the machine makes them longer, never shorter.
fn shortest(arguments: &[&str]) -> Duration {
    let run = || {
        let start = Instant::now();
        let program = env!("CARGO_BIN_EXE_fieldsheaf");
        let status =
            Command::new(program).args(arguments).stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap();
        assert!(status.success(), "{arguments:?}");
        start.elapsed()
    };
    (0..5).map(|_| run()).min().unwrap()
}

const HEAD: &str = r#"[plan]
title = "Exercise plan"
short = "PRACTICE"
team = "T"
profile = "us"
invented = true
time-zone = "America/Denver"
[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
name = "Ines Varga"
confirmed = 2026-10-01
[[exercise]]
name = "Long night"
from = "2026-12-05 00:00"
to = "2026-12-06 00:00"
real-emergency = "this is real, this is real"
[[objective]]
id = "relay"
name = "Relay a message without a wrong word"
"#;

/// An exercise of so many injects at so many sites, with all its papers.
fn exercise(folder: &Path, injects: usize, sites: usize) -> String {
    let mut text = HEAD.to_owned();
    for site in 0..sites {
        let letter = |n: usize| char::from(b'A' + u8::try_from(n).unwrap());
        let code = format!("S{}{}", letter(site / 26), letter(site % 26));
        writeln!(
            text,
            "[[place]]\nid = \"s{site}\"\ncode = \"{code}\"\ntactical = \"Site {site}\"\nkind = \"other\"\nvisited-on = 2026-09-01"
        )
        .unwrap();
    }
    for inject in 0..injects {
        let (minute, site) = (inject * 1440 / injects, inject % sites);
        let said = vec!["water rises at the door of 12 houses"; 1 + inject % 5].join(", ");
        writeln!(
            text,
            "[[inject]]\nserial = \"{}\"\nat = \"2026-12-05 {:02}:{:02}\"\ndeliver-at = \"s{site}\"\nto = \"Site manager\"\nby = \"paper\"\ntext = \"{said}.\"\nexpected = \"a message to the next site\"\nobjective = \"relay\"",
            inject + 1,
            minute / 60,
            minute % 60
        )
        .unwrap();
    }
    for (kind, audience) in [
        ("player-plan", "team"),
        ("controller-list", "coordinator"),
        ("inject-cards", "coordinator"),
        ("envelope-labels", "coordinator"),
        ("scoring-sheet", "coordinator"),
    ] {
        writeln!(text, "[[document]]\nid = \"{kind}\"\nkind = \"{kind}\"\naudience = \"{audience}\"").unwrap();
    }
    let plan = folder.join("exercise");
    std::fs::create_dir(&plan).unwrap();
    std::fs::write(plan.join("plan.toml"), text).unwrap();
    plan.to_str().unwrap().to_owned()
}

fn main() {
    let folder = std::env::temp_dir().join(format!("fieldsheaf-forms-{}", std::process::id()));
    std::fs::create_dir(&folder).unwrap();
    let out = folder.join("out.pdf").to_str().unwrap().to_owned();
    let many = shortest(&["form", "radiogram", "--copies", "1000", "--serial", "1", "--replace", "--out", &out]);
    println!("1,000 numbered radiograms, two on a sheet: {many:.2?}");
    let plan = exercise(&folder, 300, 40);
    let kit = folder.join("kit").to_str().unwrap().to_owned();
    let papers = shortest(&["build", &plan, "--out", &kit]);
    println!("300 injects at 40 sites, five papers: {papers:.2?}");
    std::fs::remove_dir_all(&folder).unwrap();
}
