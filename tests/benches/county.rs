//! How long the county takes, whole process: `cargo bench`. Machines are noisy, so medians of 20 runs are compared within one run.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    reason = "a bench measures, and says so"
)]

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const RUNS: usize = 20;

fn median(arguments: &[&str]) -> Duration {
    let mut times: Vec<Duration> = (0..=RUNS)
        .map(|_| {
            let start = Instant::now();
            let status = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"))
                .args(arguments)
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .status()
                .unwrap();
            assert!(status.success(), "{arguments:?}");
            start.elapsed()
        })
        .skip(1)
        .collect();
    times.sort();
    times[RUNS / 2]
}

fn main() {
    let plan = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let plan = plan.to_str().unwrap();
    let kit = tempfile::tempdir().unwrap();
    let out = kit.path().join("kit");
    let out = out.to_str().unwrap();
    let rows: [(&str, Vec<&str>, u64); 4] = [
        ("start alone (--version)", vec!["--version"], 0),
        ("check --plan-only", vec!["check", plan, "--plan-only"], 30),
        ("check", vec!["check", plan], 200),
        ("build", vec!["build", plan, "--out", out], 500),
    ];
    println!("median of {RUNS}, whole process");
    for (name, arguments, limit) in rows {
        let time = median(&arguments).as_micros();
        let aim = if limit > 0 { format!("  aim: under {limit} ms") } else { String::new() };
        println!("{name:24} {:6}.{:01} ms{aim}", time / 1000, time % 1000 / 100);
    }
}
