//! What each paper of a plan says.

use super::around::findings;
use super::shelf::Shelf;
use fieldsheaf::compose::{Task, document, tasks};
use fieldsheaf::ground::Findings;
use std::collections::BTreeMap;

/// What each paper says, by document and holder.
pub fn papers(world: &Shelf) -> BTreeMap<String, String> {
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found)
        .unwrap_or_else(|| panic!("{:?}", found.iter().map(|f| &f.message).collect::<Vec<_>>()));
    let copies = orders.iter().flat_map(|task| task.copies());
    let said = |copy: &Task| {
        let holder = copy.holder.as_ref().map(|holder| format!("-{holder}")).unwrap_or_default();
        let said = fieldsheaf::edition::canonical(&document(&checked, copy, None), "rules").unwrap();
        (format!("{}{holder}", copy.document), said.replace('\u{a0}', " "))
    };
    copies.map(|copy| said(&copy)).collect()
}

/// Wants a paper to say some words.
pub fn says(papers: &BTreeMap<String, String>, paper: &str, words: &str) {
    let said = papers.get(paper).unwrap_or_else(|| panic!("no {paper} in {:?}", papers.keys()));
    assert!(said.contains(words), "{paper}: {words}\n{said}");
}

/// What is found by a rule: each message with its help.
pub fn told(world: &Shelf, rule: &str) -> Vec<(String, String)> {
    let (_, found) = findings(world);
    let own = found.iter().filter(|finding| finding.rule.name == rule);
    own.map(|finding| (finding.message.clone(), finding.help.clone().unwrap_or_default())).collect()
}
