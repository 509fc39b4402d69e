//! What `compare` says is all that differs: whoever applies it to the old plan has the new one. Its order is by danger, always.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compare::{ReadPlan, compare, read_plan};
use fieldsheaf::plan::{Change, Danger};
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, prop_oneof, proptest};
use std::collections::BTreeMap;
use toml::{Table, Value};

/// A channel as a plan has it, by id.
type Channels = BTreeMap<u8, (u32, u8, String, bool)>;
/// A member, by id.
type Members = BTreeMap<u8, (String, u8, bool)>;

fn channels() -> impl Strategy<Value = Channels> {
    let name = prop_oneof![Just("Ridge".to_owned()), Just("Bay".to_owned()), "[A-Z][a-z]{2,6}"];
    proptest::collection::btree_map(0..9_u8, (0..12_u32, 0..4_u8, name, any::<bool>()), 1..7)
}

fn members() -> impl Strategy<Value = Members> {
    proptest::collection::btree_map(0..9_u8, ("[A-Z][a-z]{2,6}", 0..20_u8, any::<bool>()), 0..6)
}

fn plan((channels, members): &(Channels, Members)) -> Value {
    let mut text = HEAD.to_owned();
    for (id, (step, tone, spoken, has_note)) in channels {
        let tone = ["67.0", "100.0", "103.5", "127.3"][usize::from(*tone)];
        let note = if *has_note { "note = \"by day\"\n" } else { "" };
        text += &format!(
            "[[channel]]\nid = \"c{id}\"\nrow = {}\nname = \"C{id}\"\nspoken = \"{spoken} {id}\"\nsimplex = \"146.{}0 MHz\"\ntx-tone = \"{tone} Hz\"\n{note}verified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            id + 1,
            400 + step * 15
        );
    }
    for (id, (name, number, has_mail)) in members {
        let mail = if *has_mail { format!("email = \"m{id}@example.org\"\n") } else { String::new() };
        text += &format!(
            "[[member]]\nid = \"m{id}\"\nname = \"{name}\"\n{mail}phone = [{{ number = \"+1 406 555 01{number:02}\", confirmed = 2026-10-01 }}]\nconfirmed = 2026-10-01\n"
        );
    }
    for each in ["once", "member"] {
        text += &format!(
            "[[document]]\nid = \"card-{each}\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"{each}\"\n"
        );
    }
    toml::from_str::<Table>(&text).map(Value::Table).unwrap()
}

fn read(plan: &Value) -> ReadPlan {
    read_plan(&Shelf::new().with("plan.toml", toml::to_string(plan).unwrap()), "plan.toml").unwrap()
}

/// A quantity in one spelling: `146.4900 MHz` and `146.49 MHz` are one.
fn quantity(text: &str) -> String {
    let (number, unit) = text.split_once(' ').unwrap();
    format!("{} {unit}", number.parse::<f64>().unwrap())
}

/// The keys of a record as they are told: in TOML, one by one.
type Told = BTreeMap<(String, String), BTreeMap<String, String>>;

/// A plan as it is told, by kind and id.
fn told(plan: &ReadPlan) -> Told {
    let table: Table = toml::from_str(&plan.to_toml()).unwrap();
    let mut all = Told::new();
    for (kind, value) in &table {
        let records: Vec<&Table> = match value {
            Value::Array(items) => items.iter().filter_map(Value::as_table).collect(),
            other => other.as_table().into_iter().collect(),
        };
        for record in records {
            let id = record.get("id").and_then(Value::as_str).unwrap_or(kind).to_owned();
            let keys = record.iter().map(|(key, value)| (key.clone(), plainly(value)));
            all.insert((kind.clone(), id), keys.collect());
        }
    }
    all.retain(|(kind, _), _| kind != "edition");
    for record in all.values_mut() {
        for key in ["simplex", "tx-tone"] {
            record.entry(key.to_owned()).and_modify(|value| *value = quantity(value));
        }
    }
    all.values_mut().for_each(|record| record.retain(|_, value| !value.is_empty()));
    all
}

fn plainly(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

/// A value as a change says it, in the same spelling.
fn spelled(value: &str) -> String {
    let parsed = toml::from_str::<Table>(&format!("value = {value}"));
    parsed.map_or_else(|_| value.to_owned(), |table| plainly(&table["value"]))
}

/// What a change says of a key of a record: others say what a radio is set by, which the keys of records say too.
fn apply(changes: &[Change], old: &Told, new: &Told) -> Told {
    let mut plan = old.clone();
    for change in changes {
        let id = change.id.clone().unwrap_or_else(|| change.kind.clone());
        let name = (change.kind.clone(), id);
        match (&change.key, change.danger) {
            (None, Danger::Removed) => drop(plan.remove(&name)),
            (None, Danger::Renamed) => {
                let mut record = plan.remove(&name).unwrap();
                let id = change.new.clone().unwrap();
                record.insert("id".to_owned(), id.clone());
                plan.insert((change.kind.clone(), id), record);
            }
            // A new record is told as new: what it says is on the new sheets.
            (None, Danger::Added) => drop(plan.insert(name.clone(), new[&name].clone())),
            (None, _) => panic!("{change:?}"),
            (Some(key), _) => {
                let Some(record) = plan.get_mut(&name) else { panic!("{change:?}") };
                let was = record.get(key).cloned();
                let of = |value: &Option<String>| value.as_deref().map(spelled);
                // A channel is told by what a radio is set to: of a simplex channel what it sends says all, and what it hears the same.
                let set = match (change.kind.as_str(), key.as_str()) {
                    ("channel", "send" | "hear") => Some("simplex"),
                    ("channel", "send tone") => Some("tx-tone"),
                    _ => None,
                };
                if let Some(set) = set {
                    let [old, new] = [&change.old, &change.new].map(|value| quantity(value.as_deref().unwrap()));
                    let now = record.insert(set.to_owned(), new.clone()).unwrap();
                    assert!(now == old || (key == "hear" && now == new), "{change:?}");
                    continue;
                }
                assert_eq!(was, of(&change.old), "{change:?}");
                match &change.new {
                    Some(value) => drop(record.insert(key.clone(), spelled(value))),
                    None => drop(record.remove(key)),
                }
            }
        }
    }
    plan
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_changed_applied_to_the_old_plan_is_the_new_one(old in (channels(), members()), new in (channels(), members())) {
        let [old, new] = [read(&plan(&old)), read(&plan(&new))];
        let comparison = compare(&old, &new).unwrap();
        let (before, after) = (told(&old), told(&new));
        let applied = apply(&comparison.changes, &before, &after);
        prop_assert_eq!(&applied, &after);
        let dangers: Vec<Danger> = comparison.changes.iter().map(|change| change.danger).collect();
        prop_assert!(dangers.is_sorted());
        prop_assert_eq!(comparison.changes.is_empty(), before == after);
        // Nothing is told twice.
        let mut unique = comparison.changes.clone();
        unique.dedup();
        prop_assert_eq!(unique.len(), comparison.changes.len());
        let back = compare(&new, &old).unwrap();
        prop_assert_eq!(apply(&back.changes, &after, &before), before);
    }
}
