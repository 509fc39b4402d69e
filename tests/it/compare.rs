//! Two plans side by side: each change by its values, and the papers that are to be replaced.

use crate::support::every::county;
use crate::support::shelf::Shelf;
use fieldsheaf::compare::{Comparison, ReadPlan, compare, read_plan};
use fieldsheaf::plan::{Change, DANGERS, Danger, SETS_A_CHANNEL};
use std::collections::BTreeSet;

fn read(world: &Shelf) -> ReadPlan {
    read_plan(world, "plan.toml").unwrap()
}

/// The county with texts of one file replaced, each once.
fn county_with(file: &str, replaced: &[(&str, &str)]) -> Shelf {
    let shelf = county("");
    let mut text = shelf.text(file);
    for (old, new) in replaced {
        assert!(text.contains(old), "{file} has no {old}");
        text = text.replacen(old, new, 1);
    }
    shelf.with(file, text)
}

fn between(new: &Shelf) -> Comparison {
    compare(&read(&county("")), &read(new)).unwrap()
}

/// Danger, subject, key, before, now.
fn told(change: &Change) -> String {
    let Change { danger, kind, id, called: _, key, old, new } = change;
    let id = id.as_deref().unwrap_or("-");
    let of = |value: &Option<String>| value.clone().unwrap_or_else(|| "-".to_owned());
    format!("{} {kind}/{id} {}: {} -> {}", danger.word(), key.as_deref().unwrap_or("whole"), of(old), of(new))
}

fn replaced(comparison: &Comparison) -> BTreeSet<String> {
    let papers = comparison.papers.as_ref().unwrap();
    papers.iter().filter(|paper| paper.is_changed).map(|paper| paper.document.clone()).collect()
}

#[test]
fn a_plan_is_no_other_than_itself() {
    let same = between(&county(""));
    assert_eq!(same.changes, []);
    assert_eq!(replaced(&same), BTreeSet::new());
    assert!(same.papers.unwrap().len() > 15);
}

#[test]
fn another_number_and_other_days_replace_nothing() {
    let next = between(&county_with("plan.toml", &[("number = 7", "number = 8"), ("2027-06-01", "2027-07-01")]));
    assert_eq!(next.changes, []);
    assert_eq!(replaced(&next), BTreeSet::new());
}

/// The county as one file, its tables and includes in it, is the county: no change, and each paper with the code it had.
#[test]
fn a_plan_told_as_one_file_reads_as_it_was() {
    let county = county("");
    let whole = read(&county);
    let again = read(&county.with("plan.toml", whole.to_toml()));
    let errors: Vec<&str> =
        again.outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    assert_eq!(again.to_toml(), whole.to_toml());
    let both = compare(&whole, &again).unwrap();
    assert_eq!(both.changes, []);
    assert_eq!(replaced(&both), BTreeSet::new());
    assert!(whole.to_toml().len() > 20_000);
}

#[test]
fn a_quantity_in_another_spelling_is_no_change() {
    let other = [("output = \"146.940 MHz\"", "output = \"146940 kHz\""), ("\"-600 kHz\"", "\"-0.6 MHz\"")];
    assert_eq!(between(&county_with("repeaters.toml", &other)).changes, []);
}

#[test]
fn a_tone_comes_first_and_names_each_channel_that_is_set_by_it() {
    let comparison = between(&county_with("repeaters.toml", &[("tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"")]));
    let changes: Vec<String> = comparison.changes.iter().map(told).collect();
    assert_eq!(
        changes,
        ["sent channel/cmd-1 send tone: 103.5 Hz -> 100.0 Hz", "text repeater/cold-ridge tone-in: 103.5 Hz -> 100 Hz",]
    );
    let papers = replaced(&comparison);
    assert!(papers.contains("channel-card") && papers.contains("my-channels"), "{papers:?}");
    assert!(!papers.contains("message") && !papers.contains("lead-contacts"), "{papers:?}");
}

#[test]
fn who_leaves_takes_their_own_copy_with_them() {
    let county = county("");
    let people = county.text("people.csv");
    let gone: Vec<&str> = people.lines().enumerate().filter(|(at, _)| *at != 2).map(|(_, line)| line).collect();
    let id = people.lines().nth(2).unwrap().split(',').next().unwrap().to_owned();
    let comparison = between(&county.with("people.csv", gone.join("\n")));
    let removed: Vec<String> =
        comparison.changes.iter().filter(|change| change.danger == Danger::Removed).map(told).collect();
    assert_eq!(removed.len(), 1);
    assert!(removed[0].starts_with(&format!("removed member/{id} whole: ")), "{removed:?}");
    if let Some(papers) = &comparison.papers {
        let own = papers.iter().find(|paper| paper.document == "my-channels").unwrap();
        assert!(own.holders.contains(&id), "{own:?}");
    }
}

#[test]
fn another_id_with_all_else_alike_is_a_new_name_and_no_new_record() {
    let radio = [("id = \"cold-ridge\"", "id = \"cold-peak\"")];
    let shelf = county_with("repeaters.toml", &radio);
    let changes: Vec<String> = between(&shelf).changes.iter().map(told).collect();
    assert!(changes.contains(&"renamed repeater/cold-ridge whole: cold-ridge -> cold-peak".to_owned()), "{changes:?}");
    assert!(!changes.iter().any(|change| change.starts_with("added") || change.starts_with("removed")), "{changes:?}");
}

/// The order in which a reader meets them: what sends first, facts last.
#[test]
fn the_most_dangerous_change_is_told_first() {
    let shelf =
        county_with("repeaters.toml", &[("tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\""), ("40 W", "30 W")]);
    let mut text = shelf.text("nets.toml");
    text = text.replacen("name = \"", "name = \"New ", 1);
    let comparison = between(&shelf.with("nets.toml", text));
    let dangers: Vec<Danger> = comparison.changes.iter().map(|change| change.danger).collect();
    let mut sorted = dangers.clone();
    sorted.sort();
    assert_eq!(dangers, sorted);
    assert_eq!((dangers.first(), dangers.last()), (Some(&Danger::Sent), Some(&Danger::Text)));
    assert!(dangers.contains(&Danger::Renamed));
}

/// A key of another name would fall among the facts, and nobody would be told to set the radio anew.
#[test]
fn every_key_that_is_a_danger_is_one_of_its_record() {
    let schema = fieldsheaf::plan::schema();
    let has = |kind: &str, key: &str| schema["$defs"][kind]["properties"].get(key).is_some();
    let mut judged = 0;
    for (kinds, keys, danger) in DANGERS {
        for (kind, key) in kinds.iter().flat_map(|kind| keys.iter().map(move |key| (kind, key))) {
            assert!(has(kind, key), "{danger:?}: no {kind} has `{key}`");
            judged += 1;
        }
    }
    for key in SETS_A_CHANNEL {
        assert!(has("channel", key), "no channel has `{key}`");
    }
    assert!(judged > 60, "{judged}");
}
