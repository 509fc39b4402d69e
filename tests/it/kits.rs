//! Sets of papers: a cover says what is in its set, and it is; what cannot be handed over as one is refused.
#![allow(clippy::disallowed_methods, reason = "whole-program tests live on the disk")]

use crate::support::desk::Desk;
use crate::support::every::county;
use crate::support::geometry::{judge_sheets, runs};
use crate::support::shelf::Shelf;
use fieldsheaf::formats::Duplex;
use fieldsheaf::sheet::{Job, Panel};
use fieldsheaf::{check, jobs};
use std::collections::BTreeMap;

fn by_stem(world: &Shelf) -> BTreeMap<String, Job> {
    jobs(world, "plan.toml").unwrap().into_iter().map(|job| (job.stem.clone(), job)).collect()
}

fn words(panel: &Panel) -> String {
    runs(panel).iter().map(|run| &*run.text).collect::<Vec<_>>().join(" ")
}

/// The panels of a page of a file.
fn on_page(job: &Job, page: usize) -> Vec<&Panel> {
    job.pages[page].placed.iter().map(|placed| &job.panels[placed.panel]).collect()
}

/// A row of a cover: document, page, pages, code.
fn rows(cover: &Panel) -> Vec<(String, usize, usize, String)> {
    let mut cells: BTreeMap<u16, Vec<String>> = BTreeMap::new();
    for run in runs(cover) {
        if let Some(cell) = run.place.cell.filter(|cell| cell.row > 0) {
            cells.entry(cell.row).or_default().push(run.text.to_string());
        }
    }
    let row = |cells: Vec<String>| {
        let numbers: Vec<usize> = cells.iter().skip(1).filter_map(|cell| cell.parse().ok()).collect();
        let is_code = |cell: &&String| cell.len() == 4 && cell.chars().all(|c| c.is_ascii_uppercase());
        let name =
            cells.iter().find(|cell| cell.contains('-') || cell.chars().all(|c| c.is_ascii_lowercase())).unwrap();
        (name.clone(), numbers[0], numbers[1], cells.iter().find(is_code).unwrap().clone())
    };
    cells.into_values().map(row).collect()
}

/// Every paper of the cover stands on the page that it says, with the code that it says, on as many pages; nothing else is there.
fn holds_what_it_says(job: &Job, cover: usize, documents: &[&str]) -> usize {
    let rows = rows(on_page(job, cover)[0]);
    assert_eq!(rows.iter().map(|row| row.0.as_str()).collect::<Vec<_>>(), documents, "{}", job.stem);
    let mut next = 0;
    for (document, page, pages, code) in rows {
        for at in cover + page - 1..cover + page - 1 + pages {
            for panel in on_page(job, at) {
                let said = words(panel);
                assert!(said.contains(&code), "{} page {at}, {document} {code}: {said}", job.stem);
            }
        }
        next = cover + page - 1 + pages;
    }
    next
}

#[test]
fn a_cover_lists_what_its_set_holds_and_the_set_holds_it() {
    let jobs = by_stem(&county(""));
    let own = &jobs["operator-set-qra"];
    let documents = ["my-channels", "duties", "net-scripts", "contact-cards"];
    assert_eq!(holds_what_it_says(own, 0, &documents), own.pages.len());
    assert!(words(&own.panels[0]).contains("For WZ7QRA Ines Varga"));
    assert!(words(&own.panels[0]).contains("Operator's set"));
    assert!(!jobs.contains_key("operator-set-qrg"), "who stands no duty there has no such set");
    // What is in the set is what is in the file of its own.
    let alone = &jobs["my-channels-qra"];
    assert_eq!(own.panels[1..=alone.panels.len()], alone.panels);

    let all = &jobs["site-set"];
    let documents = ["site-sheets", "site-contacts", "reference", "log", "message"];
    let covers: Vec<usize> = (0..all.pages.len())
        .filter(|page| {
            on_page(all, *page).first().is_some_and(|panel| words(panel).contains("in this order. Tick each"))
        })
        .collect();
    assert_eq!(covers.len(), 14, "a set for each place");
    for (at, cover) in covers.iter().enumerate() {
        let end = holds_what_it_says(all, *cover, &documents);
        assert_eq!(Some(end), covers.get(at + 1).copied().or(Some(all.pages.len())));
    }
    for job in [own, all] {
        judge_sheets(job, 1);
    }
}

/// A set that is turned begins each of its papers on a front, and what is printed on one side has an empty back.
#[test]
fn papers_of_a_turned_set_begin_on_fronts() {
    let turned = "[[document]]\nid = \"book\"\nkind = \"channel-card\"\nlayout = \"booklet\"\naudience = \"team\"\n\
                  [[kit]]\nid = \"both\"\naudience = \"team\"\ndocuments = [\"duties\", \"book\", \"message\"]\n";
    let jobs = by_stem(&county(turned));
    let (set, book) = (&jobs["both"], &jobs["book"]);
    assert_ne!(book.duplex, Duplex::Simplex);
    assert_eq!(set.duplex, book.duplex);
    assert_eq!(set.pages.len() % 2, 0);
    let rows = rows(on_page(set, 0)[0]);
    assert!(rows.iter().all(|(_, page, ..)| page % 2 == 1), "{rows:?}");
    let duties = jobs["duties"].pages.len();
    for sheet in 0..=duties {
        assert!(on_page(set, 2 * sheet + 1).is_empty(), "the back of sheet {sheet}");
    }
    assert_eq!(rows[1].1, 2 * (1 + duties) + 1);
    assert!(!on_page(set, 2 * (1 + duties) + 1).is_empty(), "the book has backs");
    fieldsheaf::paint::pdf(set).unwrap();
}

#[test]
fn a_kit_that_cannot_be_handed_over_is_refused_with_both_values() {
    let told = |kit: &str| {
        let outcome = check(&county(kit), "plan.toml").unwrap();
        let errors = outcome.findings.iter().filter(|finding| finding.is_error());
        errors.map(|f| (f.rule.name, f.message.clone(), f.help.clone().unwrap_or_default())).collect::<Vec<_>>()
    };
    let kit = |more: &str| format!("[[kit]]\nid = \"set\"\n{more}\n");
    let one = |name: &'static str, message: &str, help: &str| vec![(name, message.to_owned(), help.to_owned())];
    assert_eq!(
        told(&kit("audience = \"team\"\ndocuments = [\"duties\", \"lead-contacts\"]")),
        one(
            "kit-too-open",
            "lead-contacts is for leads, and kit set for team",
            "write audience = \"leads\" in the kit, or leave lead-contacts out"
        )
    );
    assert_eq!(
        told(&kit("documents = [\"my-channels\"]\neach = \"place\"")),
        one(
            "kit-cannot-give",
            "my-channels is made for each member, and kit set is made for each place",
            "write each = \"member\" in the kit, or leave my-channels out"
        )
    );
    assert_eq!(
        told(&kit("documents = [\"duties\"]\neach = \"member\"\nrole = \"Cook\"")),
        one(
            "kit-cannot-give",
            "kit set is for nobody: no member of the plan is meant by it",
            "write a role or a post that some member has, or leave them out"
        )
    );
    let mixed = told(&kit("documents = [\"duties\", \"wall-chart\"]"));
    assert_eq!(mixed.len(), 1, "{mixed:?}");
    assert_eq!(
        (mixed[0].0, mixed[0].1.as_str()),
        ("kit-mixes-paper", "kit set holds wall-chart, which is on other paper than its cover")
    );
    assert_eq!(told(&kit("documents = [\"nothing\"]"))[0].0, "dangling-id");
}

/// A folder of sets says what is missing, altered or foreign, file by file; a set of which a paper is superseded is superseded.
#[test]
fn verify_tells_of_sets_what_is_not_as_it_was_written() {
    let desk = Desk::with_plan();
    let plan = desk.read("plan/plan.toml");
    let more = "\n[[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n[[kit]]\nid = \"set\"\ntitle = \"Set\"\ndocuments = [\"own\"]\neach = \"member\"\naudience = \"team\"\n";
    desk.file("plan/plan.toml", plan + more);
    desk.run(&["issue", "plan", "--out", "old"]).exits(0);
    let set =
        crate::support::desk::listing(&desk.path("old")).into_iter().find(|name| name.starts_with("set-")).unwrap();
    desk.run(&["verify", &format!("old/{set}"), "--plan", "plan"])
        .exits(0)
        .says(&format!("{set}: cover-sheet for team, code "))
        .says("a set of 1 paper: own-");
    desk.run(&["verify", "old", "--plan", "plan"]).exits(0);
    desk.edit("plan/channels.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    desk.edit("plan/plan.toml", "number = 1\n", "number = 2\n");
    desk.run(&["issue", "plan", "--out", "new"]).exits(0);
    desk.run(&["verify", &format!("old/{set}"), "--plan", "plan"])
        .exits(1)
        .says(&format!("superseded  {set}: a set, of which own-"));
    desk.run(&["verify", &format!("new/{set}"), "--plan", "plan"]).exits(0);
    // A set of the old edition in the folder of the new one.
    let old = std::fs::read(desk.path(&format!("old/{set}"))).unwrap();
    desk.file(&format!("new/{set}"), &old).file("new/foreign.pdf", "%PDF");
    desk.run(&["verify", "new"]).exits(1).says(&format!("changed  {set}")).says("extra    foreign.pdf");
    std::fs::remove_file(desk.path(&format!("new/{set}"))).unwrap();
    desk.run(&["verify", "new"]).exits(1).says(&format!("missing  {set}"));
}
