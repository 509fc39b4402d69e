//! A plan with one value changed.

use toml::Value;

/// A step into a plan: a key, or the number of an item in a list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Step {
    Key(String),
    At(usize),
}

/// One change: where, and to what; none: the key is left out.
#[derive(Clone, Debug)]
pub struct Change {
    pub place: Vec<Step>,
    pub new: Option<Value>,
}

impl Change {
    /// `channel/0/power = "26 W"`.
    pub fn words(&self) -> String {
        let step = |step: &Step| match step {
            Step::Key(name) => name.clone(),
            Step::At(index) => index.to_string(),
        };
        let place = self.place.iter().map(step).collect::<Vec<_>>().join("/");
        self.new.as_ref().map_or_else(|| format!("{place} left out"), |new| format!("{place} = {new}"))
    }

    /// From [`Change::words`].
    pub fn read(words: &str) -> Self {
        let step = |step: &str| step.parse().map_or_else(|_| Step::Key(step.to_owned()), Step::At);
        let (place, new) = match words.split_once(" = ") {
            Some((place, new)) => (place, Some(toml::from_str::<toml::Table>(&format!("new = {new}")).unwrap())),
            None => (words.strip_suffix(" left out").unwrap(), None),
        };
        Self { place: place.split('/').map(step).collect(), new: new.and_then(|mut new| new.remove("new")) }
    }

    /// The key that is changed.
    pub fn key(&self) -> String {
        let names = self.place.iter().filter_map(|step| match step {
            Step::Key(name) => Some(name.as_str()),
            Step::At(_) => None,
        });
        names.collect::<Vec<_>>().join(".")
    }

    /// The plan with this change; none where it has no such place.
    pub fn made_in(&self, plan: &Value) -> Option<Value> {
        let mut plan = plan.clone();
        let mut at = &mut plan;
        let (Step::Key(last), way) = self.place.split_last()? else { return None };
        for step in way {
            at = match step {
                Step::Key(name) => at.get_mut(name.as_str())?,
                Step::At(index) => at.get_mut(*index)?,
            };
        }
        let table = at.as_table_mut()?;
        let old = match &self.new {
            Some(new) => table.insert(last.clone(), new.clone()),
            None => table.remove(last),
        };
        old.map(|_| plan)
    }
}

/// The places of a key in a plan.
pub fn places(value: &Value, path: &[String]) -> Vec<Vec<Step>> {
    match value {
        Value::Array(items) if items.iter().any(Value::is_table) => {
            let of_item = |(at, item)| {
                places(item, path).into_iter().map(move |rest: Vec<Step>| [vec![Step::At(at)], rest].concat())
            };
            items.iter().enumerate().flat_map(of_item).collect()
        }
        Value::Table(table) => {
            let Some((name, rest)) = path.split_first() else { return Vec::new() };
            let Some(inner) = table.get(name) else { return Vec::new() };
            let own = Step::Key(name.clone());
            if rest.is_empty() {
                return vec![vec![own]];
            }
            places(inner, rest).into_iter().map(|more| [vec![own.clone()], more].concat()).collect()
        }
        _ => Vec::new(),
    }
}

/// What stands at a place.
pub fn value<'a>(plan: &'a Value, place: &[Step]) -> &'a Value {
    place.iter().fold(plan, |at, step| match step {
        Step::Key(name) => &at[name.as_str()],
        Step::At(index) => &at[*index],
    })
}

/// Sets of words of which one may stand for another.
const WORDS: [&[&str]; 14] = [
    // Of RFC 8032 section 7.1.
    &[
        "public-d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a-4f",
        "public-3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c-63",
    ],
    &["A", "B"],
    &["FRS 5", "FRS 6"],
    &["tally", "message", "log"],
    &["full", "card", "fold-8"],
    &["a4", "letter"],
    &["us", "de"],
    &["America/Denver", "America/Chicago"],
    &["US-MT", "US-WY"],
    &["wide", "narrow"],
    &["team", "coordinator", "leads"],
    &["extra.toml", "deep.toml"],
    &["list.xlsx", "tsil.xlsx"],
    &["people.csv", "others.csv", "birch.csv", "cedar.csv"],
];

/// Other values that might be taken in the place of one: another number, another word, another record's id, one item less.
pub fn others(old: &Value, words: &[String], ids: &[String]) -> Vec<Value> {
    match old {
        Value::Boolean(flag) => vec![Value::Boolean(!flag)],
        Value::Integer(number) => [1, -1, 7].map(|more| Value::Integer(number + more)).to_vec(),
        Value::Datetime(_) => ["2026-10-05", "2019-01-01", "2031-02-02", "2026-12-15"]
            .map(|day| Value::Datetime(day.parse().unwrap()))
            .to_vec(),
        Value::String(text) => other_texts(text, words, ids).into_iter().map(Value::String).collect(),
        Value::Array(items) => {
            let mut all = Vec::new();
            for at in 0..items.len() {
                let other = others(&items[at], words, ids).into_iter().map(Some);
                all.extend(other.chain([None]).map(|new| {
                    let (before, after) = (&items[..at], &items[at + 1..]);
                    Value::Array(before.iter().cloned().chain(new).chain(after.iter().cloned()).collect())
                }));
            }
            all
        }
        // Tables have keys of their own, but for the columns of a roster.
        Value::Table(table) if table.values().all(Value::is_str) => {
            let without = |name: &String| {
                let mut less = table.clone();
                less.remove(name).map(|_| Value::Table(less))
            };
            let changed = |name: &String| {
                let mut other = table.clone();
                other.insert(name.clone(), Value::String("Other".to_owned())).map(|_| Value::Table(other))
            };
            table.keys().filter_map(changed).chain(table.keys().filter_map(without)).collect()
        }
        Value::Table(_) | Value::Float(_) => Vec::new(),
    }
}

fn other_texts(text: &str, words: &[String], ids: &[String]) -> Vec<String> {
    let is_other = |other: &&String| *other != text;
    let mut all: Vec<String> = words.iter().filter(is_other).cloned().collect();
    for set in WORDS.iter().filter(|set| set.contains(&text)) {
        all.extend(set.iter().filter(|word| **word != text).map(|word| (*word).to_owned()));
    }
    all.extend(fieldsheaf::compose::KINDS.iter().map(|kind| kind.name.to_owned()).filter(|_| text.ends_with("-card")));
    if ids.iter().any(|id| id == text) {
        all.extend(ids.iter().filter(is_other).cloned());
    }
    all.extend(numbers(text));
    all.extend([format!("{text} more"), format!("{text}x"), "off".to_owned(), "coordinator".to_owned()]);
    all
}

/// The text with each of its numbers made greater, smaller, or much greater: `25 W` gives `26 W`, `24 W`, `250 W`.
fn numbers(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    let is_digit = |c: char| c.is_ascii_digit();
    let mut from = 0;
    while let Some(start) = text[from..].find(is_digit).map(|at| from + at) {
        let end = text[start..].find(|c| !is_digit(c)).map_or(text.len(), |at| start + at);
        let number: u64 = text[start..end].parse().unwrap_or(1);
        for other in [number + 1, number.saturating_sub(1), number * 10] {
            all.push(format!("{}{other:0wide$}{}", &text[..start], &text[end..], wide = end - start));
        }
        from = end;
    }
    all
}
