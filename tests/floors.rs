//! The order of floors, and what stays on one floor alone.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a test fails by panicking")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// From the ground up: a floor imports only those before it.
const FLOORS: [&str; 15] = [
    "ground", "source", "tables", "formats", "plan", "reckon", "checks", "audience", "compose", "edition", "typeset",
    "impose", "paint", "ledger", "cli",
];

#[expect(clippy::disallowed_methods, reason = "a test reads the source")]
fn sources(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            all.push((path, text));
        }
    }
    all
}

fn src() -> Vec<(PathBuf, String)> {
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"))
}

/// The floor of a file: its folder under src; none for lib.rs and main.rs, which stand beside all.
fn floor(path: &Path) -> Option<usize> {
    let inside = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
    FLOORS.iter().position(|name| *name == first)
}

/// Every `crate::name` in a text.
fn named(text: &str) -> BTreeSet<&str> {
    let after = text.split("crate::").skip(1);
    after.map(|rest| rest.split(|c: char| !(c.is_ascii_lowercase() || c == '_')).next().unwrap()).collect()
}

#[test]
fn every_folder_is_a_floor() {
    for (path, _) in src() {
        let inside = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
        let is_beside = inside.components().count() == 1;
        assert!(is_beside || floor(&path).is_some(), "{}", path.display());
    }
}

#[test]
fn no_floor_imports_one_above_it() {
    for (path, text) in src() {
        let Some(own) = floor(&path) else { continue };
        for name in named(&text) {
            let Some(other) = FLOORS.iter().position(|floor| *floor == name) else {
                // What lib.rs itself offers is for the topmost floor alone.
                assert!(own == FLOORS.len() - 1 || name.is_empty(), "{} uses crate::{name}", path.display());
                continue;
            };
            assert!(other <= own, "{} imports {name}", path.display());
        }
    }
}

/// A library, or a power, stays on one floor.
#[test]
fn a_library_stays_on_its_floor() {
    let alone = [
        ("toml::", "source"),
        ("lopdf::", "paint"),
        ("printpdf::", "paint"),
        ("pdf_writer::", "paint"),
        ("subsetter::", "paint"),
        ("harfrust::", "typeset"),
        ("qrcode::", "typeset"),
        ("clap::", "cli"),
        ("annotate_snippets::", "cli"),
        ("indicatif::", "cli"),
        ("std::fs", "cli"),
        ("std::env", "cli"),
        ("SystemTime", "cli"),
        ("Pass::for_audience", "audience"),
    ];
    for (path, text) in src() {
        // The binary hands its arguments over; tests inside a floor may use what they judge.
        if path.ends_with("src/main.rs") {
            continue;
        }
        let text = text.split("#[cfg(test)]").next().unwrap();
        for (word, owner) in alone {
            let own = floor(&path).map_or("lib", |floor| FLOORS[floor]);
            let uses = text.lines().any(|line| !line.trim_start().starts_with("//") && line.contains(word));
            assert!(!uses || own == owner, "{} uses {word}", path.display());
        }
    }
}

#[test]
fn the_list_of_floors_is_that_of_the_guide() {
    let guide = sources_text("DEVELOPERS.md");
    let mut last = 0;
    for floor in FLOORS {
        let at = guide.find(&format!("| `{floor}` |")).unwrap_or_else(|| panic!("{floor} is not in DEVELOPERS.md"));
        assert!(at > last, "{floor} stands out of order in DEVELOPERS.md");
        last = at;
    }
}

#[expect(clippy::disallowed_methods, reason = "a test reads the guide")]
fn sources_text(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}
