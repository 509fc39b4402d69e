//! What inputs are made of: every plan, layout, profile, form and roster of this repository, taken apart.

use super::dice::{Dice, EDGES};
use crate::support::around::{plan_around, text};
use crate::support::shelf::Shelf;
use fieldsheaf::ground::World;
use fieldsheaf::{compose, plan, typeset};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Texts by what reads them, and their parts.
pub struct Stock {
    /// Whole small plans in one file.
    pub plans: Vec<Box<str>>,
    /// Those of them without an error: what comes as far as paper.
    sound: Vec<Box<str>>,
    pub layouts: Vec<Box<str>>,
    /// Tables of profiles, one each.
    pub rows: Vec<Box<str>>,
    pub forms: Vec<Box<str>>,
    pub rosters: Vec<Box<str>>,
    /// Names, keys and values that stand anywhere.
    pub words: Vec<Box<str>>,
    /// Keys of the plan format.
    keys: Vec<Box<str>>,
    /// Records of plans as written.
    records: Vec<Box<str>>,
    /// What is written behind each key.
    values: BTreeMap<String, Vec<Box<str>>>,
}

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut all = Vec::new();
    for entry in std::fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        all.extend(if path.is_dir() { files(path.to_str().unwrap()) } else { vec![path] });
    }
    all.sort();
    all
}

fn texts(folder: &str, ending: &str) -> Vec<Box<str>> {
    let is_asked = |path: &&PathBuf| path.extension().is_some_and(|own| own == ending);
    files(folder).iter().filter(is_asked).map(|path| text(path).into()).collect()
}

/// From one heading to the next.
fn tables(text: &str) -> Vec<Box<str>> {
    let mut tables: Vec<String> = Vec::new();
    for line in text.split_inclusive('\n') {
        match tables.last_mut() {
            Some(table) if !line.starts_with('[') => table.push_str(line),
            _ => tables.push(line.to_owned()),
        }
    }
    tables.into_iter().map(Into::into).collect()
}

/// A plan around an example, as one file.
fn whole(example: &str) -> Box<str> {
    let world = plan_around(example);
    let read = |name| String::from_utf8(world.read(name, u64::MAX).unwrap()).unwrap();
    let root = read("plan.toml");
    let (_, root) = root.split_once('\n').unwrap();
    format!("{root}\n{}", read("example.toml")).into()
}

fn words(texts: &[&[Box<str>]]) -> BTreeSet<String> {
    let is_word = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let mut words = BTreeSet::new();
    for text in texts.iter().flat_map(|texts| texts.iter()) {
        words.extend(text.split('"').skip(1).step_by(2).map(|value| format!("\"{value}\"")));
        words.extend(text.split(|c| !is_word(c)).filter(|word| word.len() < 30).map(str::to_owned));
    }
    words
}

/// Keys that a schema names, at any depth.
fn schema_keys(node: &serde_json::Value, keys: &mut BTreeSet<String>) {
    if let Some(own) = node.get("properties").and_then(|own| own.as_object()) {
        keys.extend(own.keys().cloned());
    }
    let below: Vec<&serde_json::Value> = match node {
        serde_json::Value::Object(map) => map.values().collect(),
        serde_json::Value::Array(list) => list.iter().collect(),
        _ => Vec::new(),
    };
    below.into_iter().for_each(|node| schema_keys(node, keys));
}

fn boxed(words: BTreeSet<String>) -> Vec<Box<str>> {
    words.into_iter().map(Into::into).collect()
}

impl Stock {
    pub fn new() -> Self {
        let plans: Vec<Box<str>> = texts("tests/checks", "toml").iter().map(|example| whole(example)).collect();
        let county = texts("demo-plans/sorrel-river", "toml");
        let (layouts, forms) = (texts("layouts", "toml"), texts("src/tables/forms", "toml"));
        let rosters = texts("demo-plans/sorrel-river", "csv");
        let rows: Vec<Box<str>> = texts("src/tables/profiles", "toml").iter().flat_map(|text| tables(text)).collect();
        let records: Vec<Box<str>> = plans.iter().chain(&county).chain(&forms).flat_map(|text| tables(text)).collect();
        let mut values: BTreeMap<String, Vec<Box<str>>> = BTreeMap::new();
        for line in records.iter().flat_map(|record| record.lines()) {
            if let Some((key, value)) = line.split_once(" = ") {
                values.entry(key.to_owned()).or_default().push(value.into());
            }
        }
        let mut keys = BTreeSet::new();
        schema_keys(&plan::schema(), &mut keys);
        let mut words = words(&[&plans, &county, &layouts, &forms, &rows]);
        words.extend(keys.iter().cloned());
        words.extend(plan::RECORD_KINDS.iter().map(|kind| format!("\n[[{kind}]]\n")));
        let keys = boxed(keys);
        let is_sound = |plan: &str| {
            let world = Shelf::new().with("plan.toml", plan);
            fieldsheaf::check_plan(&world, "plan.toml").unwrap().findings.errors() == 0
        };
        let sound = plans.iter().filter(|plan| is_sound(plan)).cloned().collect();
        Self { plans, sound, layouts, rows, forms, rosters, words: boxed(words), keys, records, values }
    }

    /// A plan whose records are whole and whose values mostly are of their kind, so that it comes as far as the checks.
    pub fn plan(&self, dice: &mut Dice) -> String {
        let mut lines: Vec<String> = dice.pick(&self.plans).lines().map(str::to_owned).collect();
        for _ in 0..dice.below(3) * dice.below(4) {
            lines.extend(dice.pick(&self.records).lines().map(str::to_owned));
        }
        for _ in 0..dice.below(5) {
            self.change(&mut lines, dice);
        }
        lines.join("\n") + "\n"
    }

    /// A plan that mostly has no error, with orders for documents of any kind.
    pub fn ordered(&self, dice: &mut Dice) -> String {
        let mut lines: Vec<String> = dice.pick(&self.sound).lines().map(str::to_owned).collect();
        for _ in 0..dice.below(6) / 2 {
            self.change(&mut lines, dice);
        }
        lines.join("\n") + "\n" + &Self::orders(dice)
    }

    fn change(&self, lines: &mut Vec<String>, dice: &mut Dice) {
        let at = dice.below(lines.len());
        let key = lines[at].split_once(" = ").map_or("", |(key, _)| key).to_owned();
        match (dice.below(10), self.values.get(&key)) {
            (0..=5, Some(values)) => lines[at] = format!("{key} = {}", dice.pick(values)),
            (6, Some(_)) => lines[at] = format!("{key} = {}", dice.word(EDGES)),
            (7, Some(_)) => drop(lines.remove(at)),
            (8, _) => {
                let key = dice.pick(&self.keys);
                let value = self.values.get(key).map_or(dice.word(EDGES), |values| dice.pick(values));
                lines.insert(at + 1, format!("{key} = {value}"));
            }
            _ => {
                let many = if dice.once_in(40) { 60 } else { 1 };
                let record = dice.pick(&self.records);
                (0..many).for_each(|_| lines.extend(record.lines().map(str::to_owned)));
            }
        }
    }

    /// Orders for documents of any kind, for any reader, in any layout.
    fn orders(dice: &mut Dice) -> String {
        let kinds: Vec<&str> = compose::KINDS.iter().map(|kind| kind.name).collect();
        let layouts: Vec<&str> = typeset::layout_names().collect();
        let mut text = String::new();
        for number in 0..=dice.below(3) {
            let kind = dice.word(&kinds);
            let audience = dice.word(&["public", "team", "leads", "coordinator", "coordinator", "agency/county"]);
            let audience = if kind == "check-sheet" { "coordinator" } else { audience };
            text += &format!("[[document]]\nid = \"order-{number}\"\nkind = \"{kind}\"\naudience = \"{audience}\"\n");
            if kind == "form" {
                text += dice.word(&["form = \"message\"\n", "form = \"log\"\n"]);
            }
            if dice.once_in(4) {
                text += &format!("layout = \"{}\"\n", dice.word(&layouts));
            }
            if dice.once_in(4) {
                text += dice.word(&["each = \"member\"\n", "each = \"place\"\n", "variant = \"night\"\n"]);
            }
            if dice.once_in(6) {
                text +=
                    dice.word(&["variant = \"large-print\"\n", "paper = \"a4\"\n", "copies = 3\n", "copies = 500\n"]);
            }
        }
        text
    }
}
