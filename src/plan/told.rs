//! A plan record by record as it was written: what two editions are compared by.

use super::records::{self, RECORD_KINDS};
use crate::source::{Node, WrittenRecord, toml_of};
use std::collections::BTreeMap;
use std::fmt::Write;

/// All records of a plan in the order of their kinds, then of their ids: the same from one file, from many or from tables.
#[derive(Clone, Default, Debug)]
pub struct ToldPlan {
    /// The records.
    pub records: Vec<ToldRecord>,
}

/// Records with ids as they would be typed, by kind and id; of a kind that a plan has once, the kind is its id. Their places are kept.
pub type PlainRecords = BTreeMap<(String, String), Node>;

/// The records of this list that have ids, as they would be typed.
#[must_use]
pub fn plain_records(list: &[WrittenRecord]) -> PlainRecords {
    let named = |record: &WrittenRecord| {
        let (kind, node) = (record.kind.text.clone(), records::plain(record));
        let id = if records::is_many(&kind) { node.get("id")?.text()?.to_owned() } else { kind.clone() };
        Some(((kind, id), node))
    };
    list.iter().filter_map(named).collect()
}

/// A record as it was written.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ToldRecord {
    /// Where its kind stands among the kinds; behind them all where it is of none.
    order: usize,
    /// Its kind: `channel`.
    pub kind: String,
    /// Its id; the kind where a plan has one of it alone; none where its records have no ids.
    pub id: Option<String>,
    /// Its keys, in the order in which they are declared, and their values in TOML.
    pub entries: Vec<(String, String)>,
}

impl ToldPlan {
    /// The records of this list, those of tables among them.
    #[must_use]
    pub fn of(list: &[WrittenRecord]) -> Self {
        let mut records: Vec<ToldRecord> = list.iter().map(ToldRecord::of).collect();
        records.sort();
        Self { records }
    }

    /// The plan as one file, which reads as the plan that was told. What a team's own profile and layouts say is not in it.
    #[must_use]
    pub fn to_toml(&self) -> String {
        let mut text = String::new();
        for ToldRecord { kind, entries, .. } in &self.records {
            let header = if records::is_many(kind) { format!("[[{kind}]]") } else { format!("[{kind}]") };
            // Writing to a string cannot fail.
            let _ = writeln!(text, "{}{header}", if text.is_empty() { "" } else { "\n" });
            for (key, value) in entries {
                let _ = writeln!(text, "{key} = {value}");
            }
        }
        text
    }
}

impl ToldRecord {
    fn of(record: &WrittenRecord) -> Self {
        let kind = record.kind.text.clone();
        let node = records::plain(record);
        let order = RECORD_KINDS.iter().position(|known| *known == kind).unwrap_or(RECORD_KINDS.len());
        let told = |(key, node): &(crate::source::Key, Node)| (key.text.clone(), toml_of(node));
        let entries: Vec<(String, String)> = node.entries().unwrap_or_default().iter().map(told).collect();
        let id = match records::is_many(&kind) {
            true => node.get("id").and_then(Node::text).map(str::to_owned),
            false => Some(kind.clone()),
        };
        // What its files are called is no fact of the plan.
        let is_source = |key: &str| kind == "plan" && ["include", "roster", "neighbours"].contains(&key);
        let entries = entries.into_iter().filter(|(key, _)| !is_source(key)).collect();
        Self { order, kind, id, entries }
    }

    /// What is written under a key, in TOML.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&str> {
        self.entries.iter().find(|(own, _)| own == key).map(|(_, value)| value.as_str())
    }

    /// What it is called: its name, else its id.
    #[must_use]
    pub fn called(&self) -> String {
        let name = self.get("name").map(|name| name.trim_matches('"').to_owned());
        name.or_else(|| self.id.clone()).unwrap_or_else(|| {
            self.entries.iter().map(|(_, value)| value.trim_matches('"')).collect::<Vec<_>>().join(", ")
        })
    }
}
