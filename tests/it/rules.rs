//! Every rule keeps what its page says: the example raises the finding on the marked line and nothing else.

use crate::support::around::{example, findings, plan_around, text};
use fieldsheaf::cli::terminal;
use fieldsheaf::ground::{Findings, Severity};
use std::collections::{BTreeMap, BTreeSet};

/// Rule names by line of `example.toml`, as the marks say.
fn marked(example: &str) -> BTreeSet<(usize, String)> {
    let names: BTreeSet<&str> = fieldsheaf::rules().iter().map(|rule| rule.name).collect();
    let mut marks = BTreeSet::new();
    for (number, line) in example.lines().enumerate() {
        if let Some((_, comment)) = line.rsplit_once("# ")
            && names.contains(comment.trim())
        {
            marks.insert((number + 1, comment.trim().to_owned()));
        }
    }
    marks
}

/// What a plan raises. Notes ask nothing of anybody: they count where the rule in question is one.
fn raised(files: &fieldsheaf::ground::Files, found: &Findings, name: &str) -> BTreeSet<(usize, String)> {
    let mut raised = BTreeSet::new();
    let counts =
        |finding: &&fieldsheaf::ground::Finding| finding.severity() != Severity::Note || finding.rule.name == name;
    for finding in found.iter().filter(counts) {
        let place = files.place(finding.span);
        let line = place.filter(|(name, ..)| *name == "example.toml").map_or(0, |(_, line, _)| line);
        // An example with a later day of issue makes the evidence around it old: no concern of the example's.
        if line > 0 || finding.is_error() {
            raised.insert((line, finding.rule.name.to_owned()));
        }
    }
    raised
}

#[test]
fn the_plan_around_the_examples_has_no_fault() {
    let (files, found) = findings(&plan_around(""));
    assert_eq!(raised(&files, &found, ""), BTreeSet::new());
}

#[test]
fn names_are_unique_and_state_a_fault_in_kebab_case() {
    let rules = fieldsheaf::rules();
    let mut seen = BTreeSet::new();
    for rule in &rules {
        assert!(seen.insert(rule.name), "{} stands twice", rule.name);
        let is_kebab = |c: char| c.is_ascii_lowercase() || c == '-';
        assert!(rule.name.chars().all(is_kebab) && rule.name.contains('-') || rule.name == "syntax", "{}", rule.name);
        assert!(!rule.source.is_empty(), "{} has no source", rule.name);
    }
    assert!(rules.len() > 50, "{} rules", rules.len());
}

#[test]
fn every_page_says_what_it_finds_what_it_costs_and_what_is_right() {
    for rule in fieldsheaf::rules() {
        for part in ["Finds: ", "Costs: ", "Right: "] {
            assert!(rule.doc.contains(part), "{} does not say {part}", rule.name);
        }
    }
}

#[test]
fn every_example_raises_its_own_finding_on_its_line_and_no_other() {
    let mut faults = BTreeMap::new();
    for rule in fieldsheaf::rules() {
        let Some(example) = example(rule.doc) else { continue };
        let (files, found) = findings(&plan_around(example));
        let (marked, raised) = (marked(example), raised(&files, &found, rule.name));
        if marked != raised || !marked.iter().any(|(_, name)| name == rule.name) {
            faults.insert(rule.name, (marked, raised));
        }
    }
    assert!(faults.is_empty(), "marked, raised:\n{faults:#?}");
}

/// Further cases: `tests/checks/<rule>/wrong.toml` raises what its marks say, `right.toml` holds near misses and raises nothing of it.
#[test]
fn every_check_has_its_fixtures_and_they_do_what_their_marks_say() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks");
    let own: BTreeSet<&str> = fieldsheaf::checks::rules().map(|rule| rule.name).collect();
    let folders: BTreeSet<String> = listing(&root);
    assert_eq!(folders.iter().map(String::as_str).collect::<BTreeSet<_>>(), own, "one folder a rule, and none without");
    let mut faults = BTreeMap::new();
    for name in &folders {
        let wrong = text(&root.join(name).join("wrong.toml"));
        let (files, found) = findings(&plan_around(&wrong));
        let (marked, raised) = (marked(&wrong), raised(&files, &found, name));
        if marked != raised || !marked.iter().any(|(_, rule)| rule == name) {
            faults.insert(format!("{name}/wrong"), (marked, raised));
        }
        let right = text(&root.join(name).join("right.toml"));
        let (files, found) = findings(&plan_around(&right));
        let asks = |f: &&fieldsheaf::ground::Finding| f.severity() != Severity::Note || f.rule.name == name.as_str();
        let open = found.iter().filter(asks).filter(|finding| finding.waived.is_none());
        let open = open
            .map(|f| (files.place(f.span).map_or(0, |(_, line, _)| line), f.rule.name.to_owned()))
            .collect::<BTreeSet<_>>();
        // A later day of issue makes other evidence old; that is not what a near miss is about.
        if open.iter().any(|(_, rule)| rule == name || rule != "evidence-old") {
            faults.insert(format!("{name}/right"), (BTreeSet::new(), open));
        }
    }
    assert!(faults.is_empty(), "marked, raised:\n{faults:#?}");
}

/// What each `wrong.toml` makes the program say, word by word, beside it: message, marked places, notes and help. After an intended
/// change: `BLESS=1 cargo test --test it rules`, then read the difference.
#[test]
fn every_finding_says_what_it_said() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks");
    let said = |name: String| {
        let (files, found) = findings(&plan_around(&text(&root.join(&name).join("wrong.toml"))));
        (format!("{name}/wrong.txt"), terminal::full(&files, &found, None, false))
    };
    crate::support::golden::compare("tests/checks", ".txt", &listing(&root).into_iter().map(said).collect());
}

/// What `--format long` prints below a finding accepts that finding and no other, once somebody wrote a reason.
#[test]
fn the_printed_waiver_of_every_finding_that_may_stay_accepts_it_alone() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks");
    let mut faults = Vec::new();
    for rule in fieldsheaf::rules().into_iter().filter(|rule| rule.waivable) {
        let wrong = root.join(rule.name).join("wrong.toml");
        let texts = example(rule.doc).map(str::to_owned).into_iter().chain(wrong.exists().then(|| text(&wrong)));
        let mut count = 0;
        for text in texts {
            let before = fieldsheaf::check(&plan_around(&text), "plan.toml").unwrap();
            let open = before.findings.iter().filter(|finding| finding.rule == rule && finding.waived.is_none());
            for finding in open {
                count += 1;
                let record = before.answering.as_ref().unwrap().record(finding).unwrap();
                let as_printed = findings(&plan_around(&format!("{text}\n{record}"))).1;
                let names: Vec<&str> = as_printed.iter().map(|finding| finding.rule.name).collect();
                if waived(&as_printed) != waived(&before.findings) || !names.contains(&"waiver-without-reason") {
                    faults.push(format!("{record} accepts something before a reason is written"));
                }
                let reasoned = record.replace("\"...\"", "\"Tried on the bench without harm\"");
                let after = findings(&plan_around(&format!("{text}\n{reasoned}"))).1;
                let more: Vec<String> = waived(&after).difference(&waived(&before.findings)).cloned().collect();
                if all(&after) != all(&before.findings) || more != [said(finding)] {
                    faults.push(format!("{record} does not accept \"{}\", but {more:?}", finding.message));
                }
            }
        }
        // What only an edition before can raise is tried with one, in `editions.rs`.
        if count == 0 && example(rule.doc).is_some() {
            faults.push(format!("{}: no example raises it", rule.name));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn said(finding: &fieldsheaf::ground::Finding) -> String {
    format!("{}: {}", finding.rule.name, finding.message)
}

fn all(found: &Findings) -> BTreeSet<String> {
    found.iter().map(said).collect()
}

fn waived(found: &Findings) -> BTreeSet<String> {
    found.iter().filter(|finding| finding.waived.is_some()).map(said).collect()
}

#[test]
fn a_waiver_of_some_of_the_records_or_of_more_is_told_which_it_should_name() {
    let wrong =
        text(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks/waiver-finds-nothing/wrong.toml"));
    let (files, found) = findings(&plan_around(&wrong));
    let told: Vec<(usize, &str, Option<&str>, &str)> = found
        .iter()
        .filter(|finding| finding.rule.name == "waiver-finds-nothing")
        .map(|f| (files.place(f.span).unwrap().1, f.message.as_str(), f.note.as_deref(), f.help.as_deref().unwrap()))
        .collect();
    assert_eq!(
        told,
        [
            (10, "no unusual-shift is found on exactly [\"repeater/r\"]", None, "remove this record"),
            (
                31,
                "no names-sound-alike is found on exactly [\"channel/a\"]",
                Some("it is found on [\"channel/a\", \"place/p\"]"),
                "write `on = [\"channel/a\", \"place/p\"]`, or remove this record"
            ),
            (
                37,
                "no names-sound-alike is found on exactly [\"channel/a\", \"place/p\", \"repeater/r\"]",
                Some("it is found on [\"channel/a\", \"place/p\"]"),
                "write `on = [\"channel/a\", \"place/p\"]`, or remove this record"
            ),
        ]
    );
    assert!(found.iter().all(|finding| finding.waived.is_none()));
}

fn listing(folder: &std::path::Path) -> BTreeSet<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
}
