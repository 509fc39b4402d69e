//! README says what is so: its plan checks, its records too, its finding is printed, its list of documents is the program's, its
//! commands run.
#![allow(clippy::disallowed_methods, reason = "these tests read the repository")]

use crate::support::shelf::Shelf;
use fieldsheaf::ground::{Files, Findings};
use fieldsheaf::plan::{Each, Form};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn readme() -> String {
    std::fs::read_to_string(root().join("README.md")).unwrap()
}

/// Blocks of a language, in order.
fn blocks<'a>(text: &'a str, language: &str) -> Vec<&'a str> {
    let mark = format!("```{language}\n");
    text.split(mark.as_str()).skip(1).map(|rest| rest.split("```").next().unwrap()).collect()
}

#[test]
fn it_opens_with_the_job_in_one_paragraph() {
    let text = readme();
    let mut parts = text.split("\n\n");
    assert_eq!(parts.next(), Some("# fieldsheaf"));
    assert!(parts.next().unwrap().len() > 400);
}

#[test]
fn it_has_exactly_two_commands_for_a_fresh_machine() {
    let text = readme();
    let commands: Vec<&str> = blocks(&text, "sh").into_iter().map(str::trim).collect();
    assert_eq!(commands, ["cargo run --release -- build demo-plans/sorrel-river --out kit", "cargo test"]);
    let run = std::fs::read_to_string(root().join(".ci/run")).unwrap();
    assert!(run.contains("cargo test --locked"), "CI runs the README's own test command");
}

/// What a plan comes to: messages of findings that are not accepted, and names of files.
fn built(plan: String, layout: &str) -> (Vec<String>, Vec<String>) {
    let world = Shelf::new().with("plan.toml", plan).with("ours.toml", layout);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
    let found = outcome.findings.iter().filter(|finding| finding.waived.is_none());
    let files = kit.into_iter().flat_map(|kit| kit.files).map(|file| file.name);
    (found.map(|finding| finding.message.clone()).collect(), files.collect())
}

#[test]
fn its_plan_has_no_finding_and_makes_its_card() {
    let text = readme();
    let plans = blocks(&text, "toml");
    assert_eq!(plans.len(), 3);
    assert_eq!(built(plans[0].to_owned(), ""), (Vec::new(), vec!["card-qra.pdf".to_owned()]));
}

/// Its examples of records go on where its plan ends; every kind of record is there.
#[test]
fn its_records_have_no_finding_below_its_plan_and_are_all_there_are() {
    let text = readme();
    let plan = blocks(&text, "toml")[..2].concat();
    let written: toml::Table = toml::from_str(&plan).unwrap();
    let missing: Vec<&&str> =
        fieldsheaf::plan::RECORD_KINDS.iter().filter(|kind| !written.contains_key(**kind)).collect();
    assert_eq!(missing, Vec::<&&str>::new());
    assert_eq!(
        built(plan, ""),
        (Vec::new(), vec!["card-qra.pdf".to_owned(), "tally.pdf".to_owned(), "own-set-qra.pdf".to_owned()])
    );
}

/// The layout that README shows sets the plan that README shows.
#[test]
fn its_layout_has_no_finding_and_sets_its_plan() {
    let text = readme();
    let blocks = blocks(&text, "toml");
    let plan = blocks[0].replace("kind = \"channel-card\"", "kind = \"channel-card\"\nlayout = \"ours.toml\"");
    assert_eq!(built(plan, blocks[2]), (Vec::new(), vec!["card-qra.pdf".to_owned()]));
}

/// The county as the first command makes it, and every command that stands there whole.
#[test]
fn its_commands_run() {
    let text = readme();
    let folder = tempfile::tempdir().unwrap();
    let first = blocks(&text, "sh")[0].trim().split_once(" -- ").unwrap().1;
    let out = folder.path().join("kit");
    let first = first.replace("--out kit", &format!("--out {}", out.display()));
    let mut all = vec![first];
    let whole = |command: &&str| !command.contains(|c: char| c.is_ascii_uppercase() || c == '[');
    all.extend(
        text.split("`fieldsheaf ").skip(1).map(|rest| rest.split('`').next().unwrap()).filter(whole).map(str::to_owned),
    );
    assert!(all.len() > 4, "{all:?}");
    for command in all {
        let run = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"))
            .args(command.split(' '))
            .current_dir(root())
            .output()
            .unwrap();
        // The faulty plan has errors.
        let code = i32::from(command.contains("faulty"));
        assert_eq!(run.status.code(), Some(code), "{command}: {}", String::from_utf8_lossy(&run.stderr));
    }
    assert!(out.join("MANIFEST.toml").is_file());
}

/// Every variant is named.
#[test]
fn its_variants_are_named() {
    let text = readme();
    for variant in ["large-print", "night", "dense"] {
        assert!(text.contains(&format!("`variant = \"{variant}\"`")), "{variant}");
    }
}

#[test]
fn its_finding_is_what_the_program_prints() {
    let text = readme();
    let shown = blocks(&text, "text");
    assert_eq!(shown.len(), 2);
    for (format, shown) in ["full", "long"].into_iter().zip(shown) {
        let run = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"))
            .args(["check", "demo-plans/faulty", "--format", format])
            .current_dir(root())
            .env("NO_COLOR", "1")
            .output()
            .unwrap();
        let said = String::from_utf8(run.stdout).unwrap();
        assert!(said.contains(shown.trim_end()), "{said}");
    }
}

#[test]
fn its_commands_are_those_of_the_program() {
    let text = readme();
    let help = Command::new(env!("CARGO_BIN_EXE_fieldsheaf")).arg("--help").output().unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    let commands = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    for line in commands.lines() {
        let name = line.split_whitespace().next().unwrap();
        assert!(name == "help" || text.contains(&format!("| `fieldsheaf {name}")), "{name} is not in README");
    }
}

#[test]
fn its_pictures_and_files_are_there() {
    let text = readme();
    for part in text.split("](").skip(1) {
        let path = part.split(')').next().unwrap();
        assert!(root().join(path).is_file(), "{path}");
    }
    for name in ["LICENSE", "fonts/OFL.txt", "DEVELOPERS.md", "CHANGELOG.md"] {
        assert!(root().join(name).is_file(), "{name}");
    }
}

/// The top level is a decision, not a place to leave things.
#[test]
fn the_top_level_is_what_was_agreed() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE",
        "src",
        "layouts",
        "tests",
        "demo-plans",
        "fonts",
        // Written by cargo and by README's command; never committed.
        "target",
        "kit",
    ];
    for entry in std::fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(name.starts_with('.') || allowed.contains(&name.as_str()), "{name}");
    }
}

/// README with what stands between two marks replaced.
fn with_list(text: &str, (start, end): (&str, &str), list: &str) -> String {
    let (before, rest) = text.split_once(start).unwrap();
    let (_, after) = rest.split_once(end).unwrap();
    format!("{before}{start}{list}{end}{after}")
}

fn list_of_kinds() -> String {
    let mut list = "| Document | What it is | Usual layout | for each |\n|---|---|---|---|\n".to_owned();
    for kind in fieldsheaf::compose::KINDS {
        let each = kind.each.iter().filter(|each| **each != Each::Once).map(ToString::to_string);
        let each = each.collect::<Vec<_>>().join(", ");
        writeln!(list, "| `{}` | {} | `{}` | {each} |", kind.name, kind.about, kind.layout).unwrap();
    }
    list
}

/// By id; a star behind those that have values of a net.
fn list_of_forms() -> String {
    let forms = fieldsheaf::plan::builtin_forms(&mut Files::default(), &mut Findings::default());
    let named = |form: &Form| format!("`{}`{}", form.id.value, if form.asks_for_net() { "*" } else { "" });
    let names: Vec<String> = forms.iter().map(named).collect();
    let lines: Vec<String> = names.chunks(8).map(|names| names.join(", ")).collect();
    format!("{}; a star: it has values of a `net`.\n", lines.join(",\n"))
}

#[test]
fn its_list_of_documents_is_the_programs() {
    let text = readme();
    let marks = ("<!-- kinds: written by BLESS=1 cargo test --test it readme -->\n", "<!-- end of kinds -->");
    let whole = with_list(&text, marks, &list_of_kinds());
    let marks = ("<!-- forms: written by BLESS=1 cargo test --test it readme -->\n", "<!-- end of forms -->");
    let whole = with_list(&whole, marks, &list_of_forms());
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(root().join("README.md"), &whole).unwrap();
    } else {
        assert!(whole == text, "README's list is old: BLESS=1 cargo test --test it readme");
    }
}
