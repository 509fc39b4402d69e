//! README says what is so: its plan checks, its finding is printed, its list of findings is the program's, its commands exist.
#![allow(clippy::disallowed_methods, reason = "these tests read the repository")]

use crate::support::shelf::Shelf;
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

#[test]
fn its_plan_has_no_finding_and_makes_its_card() {
    let text = readme();
    let plans = blocks(&text, "toml");
    assert_eq!(plans.len(), 2);
    let world = Shelf::new().with("plan.toml", plans[0]);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
    let found: Vec<&str> = outcome.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(found, Vec::<&str>::new());
    assert_eq!(kit.unwrap().files.iter().map(|file| file.name.as_str()).collect::<Vec<_>>(), ["card-qra.pdf"]);
}

/// The layout that README shows sets the plan that README shows.
#[test]
fn its_layout_has_no_finding_and_sets_its_plan() {
    let text = readme();
    let blocks = blocks(&text, "toml");
    let plan = blocks[0].replace("kind = \"channel-card\"", "kind = \"channel-card\"\nlayout = \"ours.toml\"");
    let world = Shelf::new().with("plan.toml", plan).with("ours.toml", blocks[1]);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
    let found: Vec<&str> = outcome.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(found, Vec::<&str>::new());
    assert_eq!(kit.unwrap().files.len(), 1);
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

fn list_of_findings() -> String {
    let mut list = "| Finding | | What it finds | May be accepted |\n|---|---|---|---|\n".to_owned();
    for rule in fieldsheaf::rules() {
        // To its end, however many lines of the page it takes.
        let finds = rule.doc.split_once("Finds: ").unwrap().1.split_once("\nCosts: ").unwrap().0.replace('\n', " ");
        let accepted = if rule.waivable { "yes" } else { "no" };
        writeln!(list, "| `{}` | {} | {} | {accepted} |", rule.name, rule.severity.word(), finds.replace('|', "\\|"))
            .unwrap();
    }
    list
}

fn list_of_classes() -> String {
    let mut list = "| `profile` | `class`, lowest first | A width left out is |\n|---|---|---|\n".to_owned();
    for profile in &fieldsheaf::tables::Tables::built_in().profiles {
        let classes: Vec<String> = profile.classes.iter().map(|class| format!("`{}`", class.id)).collect();
        let width = format!("{:?}", profile.usual_width).to_lowercase();
        writeln!(list, "| `{}` ({}) | {} | {width} |", profile.id, profile.name, classes.join(", ")).unwrap();
    }
    list
}

fn list_of_kinds() -> String {
    let mut list = "| Document | What it is | Usual layout |\n|---|---|---|\n".to_owned();
    for kind in fieldsheaf::compose::KINDS {
        writeln!(list, "| `{}` | {} | `{}` |", kind.name, kind.about, kind.layout).unwrap();
    }
    list
}

/// The first line of each layout says what it is. A picture is shown where there is one.
fn list_of_layouts() -> String {
    let mut list = "| Layout | | What it is |\n|---|---|---|\n".to_owned();
    for (name, text) in fieldsheaf::tables::layouts() {
        let about = text
            .lines()
            .next()
            .and_then(|line| line.strip_prefix("# "))
            .unwrap_or_else(|| panic!("{name} says what it is"));
        let path = format!("demo-plans/pictures/layout-{name}.png");
        let picture = if root().join(&path).is_file() { format!("![{name}]({path})") } else { String::new() };
        writeln!(list, "| `{name}` | {picture} | {about} |").unwrap();
    }
    list
}

#[test]
fn its_lists_are_the_programs() {
    let text = readme();
    let lists = [
        ("rules", list_of_findings()),
        ("classes", list_of_classes()),
        ("kinds", list_of_kinds()),
        ("layouts", list_of_layouts()),
    ];
    let mut whole = text.clone();
    for (name, list) in lists {
        let marks = (
            format!("<!-- {name}: written by BLESS=1 cargo test --test it readme -->\n"),
            format!("<!-- end of {name} -->"),
        );
        whole = with_list(&whole, (&marks.0, &marks.1), &list);
    }
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(root().join("README.md"), &whole).unwrap();
    } else {
        assert!(whole == text, "README's lists are old: BLESS=1 cargo test --test it readme");
    }
}
