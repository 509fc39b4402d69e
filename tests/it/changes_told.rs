//! What is told of a new edition: change sheets, corrections by pen; and to whom nothing is told.

use super::editions::{issued, with};
use crate::support::every::county;
use crate::support::geometry::runs;
use crate::support::shelf::Shelf;
use fieldsheaf::jobs;
use fieldsheaf::sheet::{Job, ReadPlace};
use std::collections::{BTreeMap, BTreeSet};

const SHEETS: &str = r#"
[[document]]
id = "changes"
kind = "change-sheet"
audience = "team"

[[document]]
id = "public-changes"
kind = "change-sheet"
audience = "public"

[[document]]
id = "all-changes"
kind = "change-sheet"
audience = "coordinator"

[[document]]
id = "distribution"
kind = "distribution-list"
audience = "leads"

[[document]]
id = "recall"
kind = "recall-sheet"
audience = "leads"
"#;

/// The county after its edition 7: a tone, a member who left, a number.
fn next() -> (Shelf, Shelf) {
    let first = issued(county(SHEETS));
    let next = with(&first, "plan.toml", "number = 7", "number = 8");
    let next = with(&next, "repeaters.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    let next = with(&next, "repeaters.toml", "verified = { on = 2026-10-04", "verified = { on = 2026-11-19");
    let people = next.text("people.csv");
    let without: String =
        people.lines().filter(|line| !line.starts_with("qrg,")).map(|line| format!("{line}\n")).collect();
    let next = next.with("people.csv", without.replace("+1 406 555 0111", "+1 406 555 0197"));
    (first, next)
}

fn said(job: &Job) -> String {
    let all =
        job.panels.iter().flat_map(|panel| runs(panel).into_iter().map(|run| run.text.to_string()).collect::<Vec<_>>());
    all.collect::<Vec<_>>().join(" ")
}

fn by_stem(world: &Shelf) -> BTreeMap<String, Job> {
    jobs(world, "plan.toml").unwrap().into_iter().map(|job| (job.stem.clone(), job)).collect()
}

#[test]
fn a_change_sheet_tells_its_readers_what_they_may_know_and_no_more() {
    let (first, next) = next();
    let sheets = by_stem(&next);
    let team = said(&sheets["changes"]);
    for words in [
        "Since edition 7, issued 2026-11-20.",
        "no. 1 CMD 1 send tone 103.5 Hz 100.0 Hz",
        "Still valid, with the codes that they have:",
    ] {
        assert!(team.contains(words), "{words}: {team}");
    }
    // Who left and whose number is another are the coordinator's to tell.
    assert!(team.contains("not told on this copy: ask the coordinator."), "{team}");
    // Of the member who left the team's copy names what the team's own old cards show, where it is to be struck, and no more.
    let old = by_stem(&first);
    for word in ["Keller", "WZ7QRG"] {
        let told = team.matches(word).count();
        let struck: usize = old
            .iter()
            .filter(|(stem, _)| *stem == "contact-cards")
            .map(|(stem, card)| {
                assert!(said(card).contains(word), "{stem} showed the team {word}");
                let rows = corrections(&sheets["changes"], stem);
                rows.iter().flatten().map(|cell| cell.matches(word).count()).sum::<usize>()
            })
            .sum();
        let public = said(&sheets["public-changes"]);
        assert!(!public.contains(word), "{word}: {public}");
        assert_eq!(told, struck, "{word}: {team}");
    }
    for secret in ["555 0111", "555 0197", "lead-contacts", "rehearsal"] {
        assert!(!team.contains(secret), "{secret}: {team}");
    }
    let public = said(&sheets["public-changes"]);
    assert!(public.contains("no. 1 CMD 1 send tone 103.5 Hz 100.0 Hz"), "{public}");
    assert!(!public.contains("channel-card"), "a public sheet names no paper of the team: {public}");
    let all = said(&sheets["all-changes"]);
    for words in ["555 0111", "555 0197", "Bram Keller", "lead-contacts"] {
        assert!(all.contains(words), "{words}: {all}");
    }
    let at = |words: &str| all.find(words).unwrap();
    assert!(at("send tone") < at("No more") && at("No more") < at("Whom to call"), "{all}");
    let list = said(&sheets["distribution"]);
    assert!(!list.contains("Keller") && list.contains("Nadia Orsini"), "{list}");
    let recall = said(&sheets["recall"]);
    assert!(recall.contains("my-channels WZ7QRG"), "the copy of a member who left is to be taken back: {recall}");
}

/// Before anything was issued, a change sheet says so.
#[test]
fn where_nothing_was_issued_every_copy_is_new() {
    let sheets = by_stem(&county(SHEETS));
    assert!(said(&sheets["changes"]).contains("No edition was issued before this one: every copy is new."));
    assert!(said(&sheets["distribution"]).contains("none"));
}

/// What a panel says, cell by cell, without its foot.
fn cells(job: &Job) -> Vec<Vec<(ReadPlace, String)>> {
    let panel = |panel: &fieldsheaf::sheet::Panel| {
        let mut cells: Vec<(ReadPlace, String)> = Vec::new();
        for mark in panel.body.iter() {
            let fieldsheaf::sheet::Mark::Glyphs(run) = mark else { continue };
            match cells.last_mut().filter(|(place, _)| *place == run.place) {
                Some((_, words)) => *words = format!("{words} {}", run.text),
                None => cells.push((run.place, run.text.to_string())),
            }
        }
        cells
    };
    job.panels.iter().map(panel).collect()
}

/// The rows of a table that the change sheet has, read off the paper: panel, where, strike, write.
fn corrections(sheet: &Job, document: &str) -> Vec<[String; 4]> {
    let mut rows: BTreeMap<(usize, u16, u16), Vec<String>> = BTreeMap::new();
    let (mut heading, mut found) = (String::new(), BTreeSet::new());
    for (number, panel) in cells(sheet).into_iter().enumerate() {
        for (place, words) in panel {
            match place.cell {
                None => heading = words,
                Some(cell) if heading == document => {
                    found.insert((number, cell.table));
                    rows.entry((number, cell.table, cell.row)).or_default().push(words);
                }
                Some(_) => {}
            }
        }
    }
    let told = rows.into_iter().filter(|((_, _, row), cells)| *row > 0 && cells.len() == 4);
    told.map(|(_, cells)| <[String; 4]>::try_from(cells).unwrap()).collect()
}

/// Whoever corrects the old card as the change sheet says holds a card that says what the new one does.
#[test]
fn corrections_by_pen_make_the_old_card_the_new_one() {
    let (first, next) = next();
    let (old, new) = (by_stem(&first), by_stem(&next));
    for document in ["channel-card", "channel-plan", "frequency-chart"] {
        let told = corrections(&new["all-changes"], document);
        assert!(!told.is_empty(), "{document}");
        let mut card = cells(&old[document]);
        for [panel, place, strike, write] in &told {
            let panel = &mut card[panel.parse::<usize>().unwrap() - 1];
            let row = |cell: &ReadPlace| cell.cell.map(|cell| (cell.table, cell.row));
            // The row is found as people find it: by its number, where the place says one.
            let number = place.strip_prefix("no. ").and_then(|rest| rest.split(' ').next());
            let rows: BTreeSet<_> = panel
                .iter()
                .filter(|(_, words)| Some(words.as_str()) == number)
                .filter_map(|(place, _)| row(place))
                .collect();
            let is_there = |cell: &ReadPlace| number.is_none() || row(cell).is_some_and(|row| rows.contains(&row));
            let found = panel.iter_mut().find(|(cell, words)| is_there(cell) && words.contains(strike.as_str()));
            let (_, words) = found.unwrap_or_else(|| panic!("{document}: {place}: {strike}"));
            *words = words.replacen(strike.as_str(), write, 1);
        }
        // The number, the days and the code of the edition are said once for all panels.
        let told = |cards: &[Vec<(ReadPlace, String)>]| -> Vec<String> {
            let is_of_edition =
                |words: &String| ["edition 7", "DRAFT", "valid from"].iter().any(|word| words.contains(word));
            let all = cards.iter().flatten().map(|(_, words)| words.clone()).filter(|words| !is_of_edition(words));
            let before_code = |words: String| words.split("for the bulletin.").next().unwrap_or_default().to_owned();
            all.map(before_code).collect()
        };
        assert_eq!(told(&card), told(&cells(&new[document])), "{document}");
    }
}
