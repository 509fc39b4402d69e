//! The order of floors, and what stays on one floor alone.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// From the ground up: a floor imports only those before it.
const FLOORS: [&str; 16] = [
    "ground", "source", "tables", "formats", "plan", "reckon", "checks", "audience", "compose", "edition", "sheet",
    "typeset", "impose", "paint", "ledger", "cli",
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

pub(super) fn src() -> Vec<(PathBuf, String)> {
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"))
}

/// The floor of a file: its folder under src; none for lib.rs and main.rs, which stand beside all.
fn floor(path: &Path) -> Option<usize> {
    let inside = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
    FLOORS.iter().position(|name| *name == first)
}

/// Every `crate::name` in a text, or what stands there instead of a name: a list of floors in braces would hide them.
fn named(text: &str) -> BTreeSet<&str> {
    let after = text.split("crate::").skip(1);
    let end = |c: char| !(c.is_ascii_alphanumeric() || c == '_');
    after.map(|rest| rest.split(end).next().filter(|name| !name.is_empty()).unwrap_or(&rest[..1])).collect()
}

#[test]
fn a_name_behind_the_crate_is_read_whole() {
    let text =
        "use crate::ground::Id;\nuse crate::Halt; // crate::{ledger, cli}\n    crate::tone_2::f(); pub(in crate::plan)";
    assert_eq!(named(text), BTreeSet::from(["Halt", "ground", "plan", "tone_2", "{"]));
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
        for name in named(&text) {
            assert_ne!(name, "{", "{} imports floors in one list", path.display());
            let Some(own) = floor(&path) else { continue };
            match FLOORS.iter().position(|floor| *floor == name) {
                Some(other) => assert!(other <= own, "{} imports {name}", path.display()),
                // What lib.rs itself offers is for the topmost floor alone.
                None => assert_eq!(own, FLOORS.len() - 1, "{} uses crate::{name}", path.display()),
            }
        }
    }
}

/// What is set, placed, painted and written down passes from one to the other as data of the floor `sheet` and below.
#[test]
fn setting_placing_and_painting_know_nothing_of_each_other() {
    let apart = ["typeset", "impose", "paint"].map(|name| FLOORS.iter().position(|floor| *floor == name).unwrap());
    for (path, text) in src() {
        let Some(own) = floor(&path).filter(|own| apart.contains(own)) else { continue };
        for other in apart.into_iter().filter(|other| *other != own) {
            assert!(!named(&text).contains(FLOORS[other]), "{} imports {}", path.display(), FLOORS[other]);
        }
    }
}

/// What a file says in code and comments: neither its tests nor the pages of its rules, whose examples are plans.
pub(super) fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]").next().unwrap();
    text.split("r#\"").map(|part| part.split_once("\"#").map_or(part, |(_, after)| after)).collect()
}

/// The words of a text, those of names too: `is_heard`, `RadioKind` and `MHz` are five.
fn words(text: &str) -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    let mut word = String::new();
    let mut last = ' ';
    for c in text.chars().chain([' ']) {
        let is_new = !c.is_ascii_alphabetic() || (c.is_ascii_uppercase() && last.is_ascii_lowercase());
        // A unit is one word: a capital behind a single small letter does not begin another.
        if is_new && !(c.is_ascii_uppercase() && word.len() == 1) {
            words.insert(std::mem::take(&mut word).to_lowercase());
        }
        if c.is_ascii_alphabetic() {
            word.push(c);
        }
        last = c;
    }
    words
}

#[test]
fn names_are_read_word_by_word() {
    let found = words("fn is_heard(RadioKind, 5.MHz) kHz r#\"x\"#");
    assert!(["heard", "radio", "kind", "mhz", "khz"].iter().all(|word| found.contains(*word)), "{found:?}");
    assert_eq!(code("a r#\"b\"# c r#\"d\"#\n#[cfg(test)]\nmod e"), "a  c \n");
}

/// What compose says of a text, a column or a strip is enough to set it: from there on nothing knows what a radio is.
#[test]
fn setting_and_painting_know_no_radio() {
    let radio = [
        "hz",
        "khz",
        "mhz",
        "ghz",
        "hertz",
        "kilohertz",
        "megahertz",
        "frequency",
        "frequencies",
        "tone",
        "tones",
        "channel",
        "channels",
        "repeater",
        "repeaters",
        "radio",
        "radios",
        "squelch",
        "sideband",
        "antenna",
        "transmit",
        "transmitter",
        "hear",
        "send",
        "sends",
        "net",
        "nets",
        "amateur",
        "cfr",
    ];
    let apart = ["sheet", "typeset", "impose", "paint"].map(|name| FLOORS.iter().position(|floor| *floor == name));
    for (path, text) in src() {
        if !apart.contains(&floor(&path)) {
            continue;
        }
        let words = words(&code(&text));
        for word in radio {
            assert!(!words.contains(word), "{} says \"{word}\"", path.display());
        }
    }
}

/// The types that a text declares.
fn declared(text: &str) -> Vec<String> {
    let type_of = |line: &str| {
        let line = line.trim_start();
        let line = line.strip_prefix("pub").unwrap_or(line);
        let line = line.split_once(") ").filter(|_| line.starts_with('(')).map_or(line, |(_, line)| line).trim_start();
        let rest = ["struct ", "enum ", "trait "].iter().find_map(|word| line.strip_prefix(word))?;
        let name: String = rest.chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
        (!name.is_empty()).then_some(name)
    };
    code(text).lines().filter_map(type_of).collect()
}

#[test]
fn one_name_stands_for_one_type() {
    assert_eq!(
        declared("pub(in crate::a) struct A<T>(T);\n    enum Bee {\npub trait C: D\n// struct E\nuse F;"),
        ["A", "Bee", "C"]
    );
    let mut known: BTreeMap<String, PathBuf> = BTreeMap::new();
    let mut doubled = Vec::new();
    for (path, text) in src() {
        for name in declared(&text) {
            if let Some(other) = known.insert(name.clone(), path.clone()) {
                doubled.push(format!("{name}: {} and {}", other.display(), path.display()));
            }
        }
    }
    assert!(known.len() > 450, "{} types", known.len());
    assert_eq!(doubled, Vec::<String>::new());
}

/// A library, or a power, stays on one floor.
#[test]
fn a_library_stays_on_its_floor() {
    let alone = [
        ("toml::", "source"),
        ("ed25519_compact", "ground"),
        ("getrandom::", "cli"),
        ("unicode_security::", "ground"),
        ("include_dir::", "tables"),
        ("lopdf::", "paint"),
        ("printpdf::", "paint"),
        ("pdf_writer::", "paint"),
        ("subsetter::", "paint"),
        ("read_fonts::", "paint"),
        ("harfrust::", "typeset"),
        ("qrcode::", "typeset"),
        ("clap::", "cli"),
        ("annotate_snippets::", "cli"),
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

/// A document reaches records through its view alone: whoever composes sees no whole plan.
#[test]
fn only_who_makes_the_view_sees_the_whole_plan() {
    let holds = |(path, text): &(PathBuf, String)| {
        let name = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap().to_str().unwrap().replace('\\', "/");
        let is_composed = name.starts_with("src/compose/") && !name.contains("tests");
        (is_composed && text.contains("CheckedPlan")).then_some(name)
    };
    let holders: Vec<String> = src().iter().filter_map(holds).collect();
    assert_eq!(holders, ["src/compose/document.rs"]);
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

/// The texts of a source file, but for comments, for tests inside of it, and for pages of rules: the examples there are plans of the `us`
/// profile, and each is run.
fn texts(source: &str) -> Vec<String> {
    let source = source.split("#[cfg(test)]").next().unwrap();
    let (mut texts, mut rest) = (Vec::new(), source);
    while let Some(at) = rest.find(['/', '"', '\'']) {
        let (before, from) = rest.split_at(at);
        if from.starts_with("//") {
            rest = from.split_once('\n').map_or("", |(_, next)| next);
        } else if from.starts_with("'\"'") || from.starts_with("'\\\"'") {
            rest = &from[3..];
        } else if let Some(inside) = from.strip_prefix('"') {
            let hashes = before.len() - before.trim_end_matches('#').len();
            let is_raw = before.trim_end_matches('#').ends_with('r');
            let length = if is_raw { inside.find(&format!("\"{}", "#".repeat(hashes))) } else { end(inside) };
            let (text, after) = inside.split_at(length.unwrap());
            texts.push(text.to_owned());
            rest = &after[1..];
        } else {
            rest = &from[1..];
        }
    }
    texts.retain(|text| !text.starts_with("\nFinds:"));
    texts
}

/// Where a text in quotes ends.
fn end(text: &str) -> Option<usize> {
    let mut is_escaped = false;
    text.find(|c| {
        let is_end = c == '"' && !is_escaped;
        is_escaped = c == '\\' && !is_escaped;
        is_end
    })
}

#[test]
fn texts_of_a_source_are_told_from_what_stands_around_them() {
    let source = "// \"no\"\nlet a = \"one \\\" two\"; let c = '\"'; let p = r#\"\nFinds: \"frs\"\"#; let l: &'a str = r\"three\";\n#[cfg(test)]\n\"no\"";
    assert_eq!(texts(source), ["one \\\" two", "three"]);
}

/// A service is a row of the profile. No text of the program names one, so that a new one is a row and nothing else.
#[test]
fn no_service_of_a_profile_is_named_outside_the_profiles() {
    let profiles = &fieldsheaf::tables::Tables::built_in().profiles;
    let ids: BTreeSet<&str> = profiles.iter().flat_map(|of| &of.services).map(|service| service.id.as_str()).collect();
    assert!(ids.len() >= 10 && ids.contains("frs"), "{ids:?}");
    // Law and trade have no other word for the service that licence classes are of: sentences may say it, a text that is the id alone
    // is a comparison.
    let in_sentences = ["amateur"];
    let mut faults = Vec::new();
    for (path, source) in src().into_iter().filter(|(path, _)| !path.ends_with("tests.rs")) {
        for text in texts(&source) {
            let lower = text.to_lowercase();
            let words =
                lower.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).filter(|word| ids.contains(word));
            let named = words.filter(|word| !(in_sentences.contains(word) && text.contains(' ')));
            faults.extend(named.map(|word| format!("{}: {word} in \"{text}\"", path.display())));
        }
    }
    assert_eq!(faults, Vec::<String>::new());
}
