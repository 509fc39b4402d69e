//! `explain` prints every key with what it takes, what holds without it, an example and its meaning: the examples are taken.

use crate::keys::{PLANS, shelf};
use crate::support::desk::Desk;
use fieldsheaf::ground::Findings;
use fieldsheaf::{plan, source};
use serde_json::Value as Json;
use std::collections::BTreeSet;
use toml::Value;

/// A line of a table: heading of the page, then the cells.
type Row = (String, Vec<String>);

fn rows(markdown: &str) -> Vec<Row> {
    let mut heading = String::new();
    let mut rows = Vec::new();
    for line in markdown.lines() {
        if let Some(name) = line.strip_prefix("## ") {
            heading = name.to_owned();
        } else if let Some(cells) = line.strip_prefix("| ").and_then(|line| line.strip_suffix(" |")) {
            rows.push((heading.clone(), cells.split(" | ").map(str::to_owned).collect()));
        }
    }
    rows
}

fn printed() -> Vec<Row> {
    rows(&Desk::new().run(&["explain", "--markdown"]).exits(0).said())
}

/// The rows of keys: what they take stands second.
fn keys() -> Vec<Row> {
    printed().into_iter().filter(|(_, cells)| cells[0].contains(" = ")).collect()
}

/// How many keys the tables of a schema have, and its top beside them.
fn known(schema: &Json) -> usize {
    let is_table = |node: &&Json| {
        let name = node.get("$ref").or_else(|| node.get("items")?.get("$ref")).and_then(Json::as_str);
        name.is_some_and(|name| schema.pointer(&format!("{}/properties", &name[1..])).is_some())
    };
    let count = |table: &Json| table["properties"].as_object().map_or(0, serde_json::Map::len);
    let top = schema["properties"].as_object().unwrap().values().filter(|node| !is_table(node)).count();
    top + schema["$defs"].as_object().unwrap().values().map(count).sum::<usize>()
}

#[test]
fn every_key_of_both_formats_is_told_with_all_that_belongs_to_it() {
    let keys = keys();
    assert_eq!(keys.len(), known(&plan::schema()) + known(&fieldsheaf::typeset::layout_schema()));
    for (heading, cells) in &keys {
        assert_eq!(cells.len(), 4, "{heading}: {cells:?}");
        assert!(cells.iter().all(|cell| !cell.trim().is_empty()), "{heading}: {cells:?}");
        assert!(!cells[0].ends_with("= "), "{heading}: {} has no example", cells[0]);
        assert_ne!(cells[2], "may be left out", "{heading}: {} does not say what holds without it", cells[0]);
        assert!(
            !cells[3].contains("when left out") && !cells[3].contains(".,") && cells[3].ends_with('.'),
            "{heading}: {cells:?}"
        );
    }
}

#[test]
fn what_is_told_of_a_key_is_what_its_declaration_says() {
    let keys = keys();
    let is_there = |heading: &str, cells: [&str; 4]| {
        let found = keys.iter().find(|(own, row)| own == heading && row[0] == cells[0]);
        assert_eq!(found.map(|(_, row)| row.iter().map(String::as_str).collect::<Vec<_>>()), Some(cells.to_vec()));
    };
    let row = "the order of the rows, where none has a number";
    is_there(
        "[[channel]]",
        [
            "row = 1",
            "a whole number from 1 to 999",
            &format!("left out: {row}"),
            "The number printed on its row, by which it is called.",
        ],
    );
    is_there(
        "[[channel]]",
        [
            "next = \"tac\"",
            "the id of a `[[channel]]`",
            "left out: the net's next one",
            "The channel to go to when nobody answers.",
        ],
    );
    is_there(
        "`contact` in `place`",
        ["phone = \"+1 406 555 0141\"", "text to print", "must be there", "Its number, never a private one."],
    );
    is_there(
        "[edition]",
        ["valid-from = 2026-12-01", "a date as year-month-day", "must be there", "First day on which it counts."],
    );
}

#[test]
fn every_finding_kind_layout_and_profile_is_told() {
    let rows = printed();
    let of = |heading: &str| -> Vec<&Vec<String>> {
        // The names of the columns and the line below them come first.
        rows.iter().filter(|(own, _)| own == heading).map(|(_, cells)| cells).skip(1).collect()
    };
    let findings = of("Findings");
    assert_eq!(findings.len(), fieldsheaf::rules().len());
    for (rule, cells) in fieldsheaf::rules().iter().zip(findings) {
        let accepted = if rule.waivable { "may be accepted" } else { "cannot be accepted" };
        assert_eq!(cells[..2], [rule.name.to_owned(), format!("{}, {accepted}", rule.severity.word())]);
        let finds = rule.doc.split("Finds: ").nth(1).unwrap().split("\nCosts: ").next().unwrap().replace('\n', " ");
        assert_eq!(cells[2].replace("\\|", "|"), finds, "{}", rule.name);
    }
    let names = |heading: &str| of(heading).iter().map(|cells| cells[0].clone()).collect::<Vec<_>>();
    assert_eq!(names("Documents"), fieldsheaf::compose::KINDS.iter().map(|kind| kind.name).collect::<Vec<_>>());
    assert_eq!(names("Layouts"), fieldsheaf::tables::layouts().map(|(name, _)| name).collect::<Vec<_>>());
    let german = of("Profiles").into_iter().find(|cells| cells[0] == "de").unwrap().join(", ");
    assert_eq!(german, "de, Germany, classes: n, e, a, a width left out is narrow");
}

/// Puts a value into every table that a heading names; says into how many.
fn put(plan: &mut Value, heading: &str, key: &str, value: &Value) -> usize {
    let path: Vec<&str> = match heading.split_once("` in `") {
        Some((own, holder)) => vec![holder.split('`').next().unwrap(), own.trim_start_matches('`')],
        None => vec![heading.trim_matches(['[', ']'])],
    };
    put_at(plan, &path, key, value)
}

fn put_at(at: &mut Value, path: &[&str], key: &str, value: &Value) -> usize {
    match (at, path) {
        (Value::Array(items), _) => items.iter_mut().map(|item| put_at(item, path, key, value)).sum(),
        (Value::Table(table), [first, rest @ ..]) => {
            table.get_mut(*first).map_or(0, |inner| put_at(inner, rest, key, value))
        }
        (Value::Table(table), []) => {
            table.insert(key.to_owned(), value.clone());
            1
        }
        _ => 0,
    }
}

/// Every example of a key of the plan format stands in for its value, one at a time: nothing is refused.
#[test]
fn every_example_of_the_plan_format_is_taken() {
    let plan: Value = toml::from_str::<toml::Table>(PLANS[0].1).map(Value::Table).unwrap();
    let mut tried = BTreeSet::new();
    for (heading, cells) in keys() {
        // Two steps down, and the top of the file, are the plan's own business; layouts are tried by what they set.
        let (key, example) = cells[0].split_once(" = ").unwrap();
        let example = toml::from_str::<toml::Table>(&format!("x = {example}")).unwrap_or_else(|_| panic!("{example}"));
        let mut changed = plan.clone();
        if put(&mut changed, &heading, key, &example["x"]) == 0 {
            continue;
        }
        let world = shelf(&toml::to_string(&changed).unwrap());
        let mut found = Findings::default();
        let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
        plan::build(&world, &mut records, &mut found);
        let refusals = ["bad-value", "bare-number", "unknown-key", "time-zone-unknown"];
        let refused: Vec<&str> = found
            .iter()
            .filter(|finding| refusals.contains(&finding.rule.name))
            .map(|finding| finding.message.as_str())
            .collect();
        assert_eq!(refused, Vec::<&str>::new(), "{heading}: {}", cells[0]);
        tried.insert((heading, key.to_owned()));
    }
    assert!(tried.len() > 200, "{} examples were tried", tried.len());
}

#[test]
fn a_name_shows_the_rule_the_record_the_key_the_kind_or_the_layout() {
    let desk = Desk::new();
    desk.run(&["explain", "transmit-leaves-band"]).exits(0).says("Finds:").says("97.");
    desk.run(&["explain", "net"]).exits(0).says("[[net]]\n").says("  rejoin = ");
    let key = desk.run(&["explain", "channel.rx-tone"]).exits(0).said();
    assert!(key.contains("rx-tone = ") && key.contains("left out: off") && !key.contains("tx-tone"), "{key}");
    desk.run(&["explain", "tolerance"]).exits(0).says("[[radio]]").says("[[repeater]]").says("[[gateway]]");
    desk.run(&["explain", "fold-8"]).exits(0).says("one sheet, one cut, eight panels");
    desk.run(&["explain", "contact-card"]).exits(0).says("usual layout: fold-8");
    desk.run(&["explain", "writing-lime"]).exits(2).says("did you mean `writing-line`?");
}

/// No line of the text for a terminal is wider than one, but for examples and names that cannot be parted.
#[test]
fn the_text_for_a_terminal_fits_it() {
    let text = Desk::new().run(&["explain"]).exits(0).said();
    let is_wide = |line: &&str| line.chars().count() > 80 && !line.starts_with("  ");
    assert_eq!(text.lines().filter(is_wide).collect::<Vec<_>>(), Vec::<&str>::new());
    assert!(text.lines().filter(|line| line.starts_with("      ")).all(|line| line.chars().count() <= 80), "{text}");
}
