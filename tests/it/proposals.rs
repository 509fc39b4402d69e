//! A help is itself clean: what it says to type is typed, the finding is gone, and nothing new came.

use crate::support::around::{example, findings, plan_around, text};
use crate::support::shelf::Shelf;
use fieldsheaf::ground::{Files, Finding, Findings, Severity};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// How often each rule finds something that asks for a mend.
fn counts(found: &Findings) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for finding in found.iter().filter(|finding| finding.severity() != Severity::Note) {
        *counts.entry(finding.rule.name).or_insert(0) += 1;
    }
    counts
}

/// The file with a finding's proposal in it.
fn mended(files: &Files, finding: &Finding) -> Option<(String, String)> {
    let fix = finding.fix.as_ref()?;
    let file = files.get(fix.span.file)?;
    let mut text = file.text.to_string();
    text.replace_range(usize::try_from(fix.span.start).unwrap()..usize::try_from(fix.span.end).unwrap(), &fix.text);
    Some((file.name.clone(), text))
}

/// What is wrong with the proposals in a plan; the rules that proposed something are added to `proposed`.
fn unclean(world: &Shelf, proposed: &mut BTreeSet<&'static str>) -> Vec<String> {
    let (files, found) = findings(world);
    let before = counts(&found);
    let mut faults = Vec::new();
    for finding in found.iter() {
        let Some((name, text)) = mended(&files, finding) else { continue };
        proposed.insert(finding.rule.name);
        let (_, after) = findings(&world.clone().with(&name, text));
        let after = counts(&after);
        let mut wanted = before.clone();
        *wanted.get_mut(finding.rule.name).unwrap() -= 1;
        // A waiver of what is mended has done its work.
        let is_wake =
            |rule: &str| rule == "waiver-finds-nothing" && before.keys().any(|rule| rule.starts_with("waiver-"));
        let is_more = |rule: &str, count: usize| count > wanted.get(rule).copied().unwrap_or(0) && !is_wake(rule);
        let grown = after.iter().find(|(rule, count)| is_more(rule, **count));
        if let Some((rule, _)) = grown {
            faults.push(format!("{}: {:?} brings {rule}", finding.message, finding.fix));
        }
    }
    faults
}

#[test]
fn every_help_in_every_fixture_and_example_is_clean() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks");
    let mut proposed = BTreeSet::new();
    let mut faults = Vec::new();
    for rule in fieldsheaf::rules() {
        let wrong = root.join(rule.name).join("wrong.toml");
        let fixture = wrong.is_file().then(|| text(&wrong));
        for plan in fixture.into_iter().chain(example(rule.doc).map(str::to_owned)) {
            faults.extend(
                unclean(&plan_around(&plan), &mut proposed).into_iter().map(|what| format!("{}: {what}", rule.name)),
            );
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(proposed.len() >= 20, "{proposed:?}");
}

/// The nearest frequency inside the band was a satellite's, or a repeater's, or somebody's: each case by value.
#[test]
fn a_proposed_frequency_is_none_that_a_rule_speaks_against() {
    let channel = |frequency: &str, more: &str| {
        format!(
            "[[channel]]\nid = \"tac\"\nrow = 3\nname = \"TAC\"\nspoken = \"Tactical\"\nsimplex = \"{frequency}\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n{more}"
        )
    };
    let taken = "[[channel]]\nid = \"other\"\nrow = 4\nname = \"OTHER\"\nspoken = \"Other\"\nsimplex = \"147.590 MHz\"\nverified = { on = 2026-10-01, by = \"qra\" }\n";
    let proposals = |plan: &str| {
        let (_, found) = findings(&plan_around(plan));
        let said = found.iter().filter_map(|finding| Some((finding.rule.name, finding.fix.as_ref()?.text.clone())));
        said.collect::<Vec<_>>()
    };
    assert_eq!(proposals(&channel("147.995 MHz", "")), [("transmit-leaves-band", "\"147.590 MHz\"".to_owned())]);
    assert_eq!(proposals(&channel("147.995 MHz", taken)), [("transmit-leaves-band", "\"147.5725 MHz\"".to_owned())]);
    assert_eq!(proposals(&channel("146.5530 MHz", "")), [("off-raster", "\"146.5525 MHz\"".to_owned())]);
    assert_eq!(proposals(&channel("145.900 MHz", "")), [("band-plan-segment", "\"145.790 MHz\"".to_owned())]);
}

/// A plan with many faults is told of all of them; other frequencies are looked for five times a rule.
#[test]
fn proposals_are_bounded() {
    let mut plan = String::new();
    for index in 0..40 {
        plan += &format!(
            "[[channel]]\nid = \"c-{index}\"\nrow = {}\nname = \"C {index}\"\nspoken = \"Channel {index}\"\nsimplex = \"149.{index:02}0 MHz\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            index + 1
        );
    }
    let (_, found) = findings(&plan_around(&plan));
    let outside: Vec<&Finding> = found.iter().filter(|finding| finding.rule.name == "transmit-leaves-band").collect();
    assert_eq!(outside.len(), 40);
    assert!(outside.iter().filter(|finding| finding.fix.is_some()).count() <= 5);
    assert!(
        outside
            .iter()
            .any(|f| f.help.as_deref() == Some("choose a frequency of the 2 m band, 144.000 MHz to 148.000 MHz"))
    );
}
