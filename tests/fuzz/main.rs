//! Inputs that nobody wrote, for every reader and for the whole program: findings, never a panic, in bounded time and memory.
//!
//! A small fuzzer of our own: what coverage guidance needs (an unstable toolchain, or foreign instrumented builds) cannot run in
//! every `cargo test`, and blind bytes never pass the TOML reader. So inputs are this repository's own plans, layouts, profiles
//! and forms, taken apart and put together by the words of their own language; the number of an input is all that it comes from.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

mod dice;
mod runner;
mod stock;
#[path = "../support/mod.rs"]
mod support;
mod targets;

use fieldsheaf::{checks, compose};
use runner::Run;
use targets::{Seen, TARGETS};

/// About a minute's inputs in a test build.
const SHORT: u64 = 24_000;

/// Files under `corpus/TARGET/` broke something once; each is named after what.
#[test]
fn what_broke_once_stays_mended() {
    let mut seen = Seen::new();
    for (target, path, bytes) in runner::corpus() {
        let target = TARGETS.iter().find(|own| own.name == target).expect("a folder of the corpus is a target");
        let faults = runner::judged_alone(target, &bytes, &mut seen);
        assert_eq!(faults, None, "{}", path.display());
    }
}

#[test]
fn inputs_nobody_wrote_break_nothing() {
    let run = Run::of_environment(SHORT);
    let (faults, seen) = run.all();
    assert!(faults.is_empty(), "{faults:#?}");
    if run.is_replay() {
        return;
    }
    // A fuzzer that no longer reaches the checks and the paper would find nothing, and say so gladly.
    for word in [
        "plan whole",
        "members in a list",
        "rows of a sheet",
        "layout read",
        "profile read",
        "manifest read",
        "kit built",
        "canonical text",
    ] {
        assert!(seen.contains_key(word), "no input came as far as: {word}");
    }
    let rules = fieldsheaf::rules();
    let reached = rules.iter().filter(|rule| seen.contains_key(rule.name)).count();
    assert!(reached * 100 >= rules.len() * 60, "{reached} of {} rules were reached", rules.len());
    let own = checks::rules().count();
    let checked = checks::rules().filter(|rule| seen.contains_key(rule.name)).count();
    assert!(checked * 100 >= own * 80, "{checked} of {own} checks were reached");
    let kinds = compose::KINDS.iter().filter(|kind| seen.contains_key(kind.name)).count();
    assert!(kinds * 2 >= compose::KINDS.len(), "{kinds} kinds of documents were composed");
}
