//! Every key of the plan format is of use: in a plan that has them all, one value is changed to another lawful one, and some
//! document or finding must differ. Which one stands in `uses.txt`; after an intended change `BLESS=1 cargo test --test it keys`.

mod change;
mod schema;
mod told;

use change::{Change, others, places, value};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use schema::{Key, keys};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
pub use told::shelf;
use told::{Told, difference, told};
use toml::Value;

/// The plan that prints, and one whose channel wants a frequency: such a plan prints nothing.
pub const PLANS: [(&str, &str); 2] =
    [("plan.toml", include_str!("../keys/plan.toml")), ("allot.toml", include_str!("../keys/allot.toml"))];

/// A plan with what it comes to as it stands.
struct Base {
    name: &'static str,
    plan: Value,
    told: Told,
    ids: Vec<String>,
}

impl Base {
    fn of((name, text): (&'static str, &str)) -> Self {
        let plan = toml::from_str::<toml::Table>(text).map(Value::Table).unwrap();
        let told = told(&toml::to_string(&plan).unwrap(), None);
        assert!(
            !told.is_refused && (told.allotted.is_empty() != told.documents.is_empty()),
            "{name}: {:#?}",
            told.findings
        );
        let mut ids = BTreeSet::new();
        gather(&plan, &mut ids);
        Self { name, plan, told, ids: ids.into_iter().collect() }
    }

    /// What a change shows; none where it shows nothing, or is not lawful.
    fn shown(&self, change: &Change) -> Option<String> {
        let told = told(&toml::to_string(&change.made_in(&self.plan)?).unwrap(), Some(&self.told));
        difference(&self.told, &told, change.key().ends_with(".id"))
    }

    /// The first change of a key that shows its use, with what it shows.
    fn use_of(&self, key: &Key) -> Option<(Change, String)> {
        places(&self.plan, &key.path).into_iter().find_map(|place| {
            let other = others(value(&self.plan, &place), &key.words, &self.ids).into_iter().map(Some);
            let mut changes = other.chain([None]).map(|new| Change { place: place.clone(), new });
            changes.find_map(|change| Some((change.clone(), self.shown(&change)?)))
        })
    }
}

/// The ids of all records and of those inside them.
fn gather(value: &Value, ids: &mut BTreeSet<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| gather(item, ids)),
        Value::Table(table) => {
            ids.extend(table.get("id").and_then(Value::as_str).map(str::to_owned));
            table.values().for_each(|inner| gather(inner, ids));
        }
        _ => {}
    }
}

fn bases() -> Vec<Base> {
    PLANS.into_iter().map(Base::of).collect()
}

/// The line of a key's use: the plan, the change, and what differs.
fn searched(key: &Key, bases: &[Base]) -> Result<String, String> {
    let line = |base: &Base| {
        let (change, shown) = base.use_of(key)?;
        Some(format!("{} {}\t{shown}", base.name, change.words()))
    };
    bases.iter().find_map(line).ok_or_else(|| key.name())
}

/// The line of a key's use as it stands in the file, made again; what stands there no more is searched anew.
fn made_again(key: &Key, bases: &[Base], known: &BTreeMap<String, String>) -> Result<String, String> {
    let again = known.get(&key.name()).and_then(|line| {
        let (done, _) = line.split_once('\t')?;
        let (name, change) = done.split_once(' ')?;
        let shown = bases.iter().find(|base| base.name == name)?.shown(&Change::read(change))?;
        Some(format!("{done}\t{shown}"))
    });
    again.map_or_else(|| searched(key, bases), Ok)
}

#[test]
fn every_key_of_the_format_changes_a_document_or_a_finding() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/keys/uses.txt");
    #[expect(clippy::disallowed_methods, reason = "a test reads what it is about")]
    let text = std::fs::read_to_string(&file).unwrap_or_default();
    let key = |line: &str| Some((Change::read(line.split_once('\t')?.0.split_once(' ')?.1).key(), line.to_owned()));
    let known: BTreeMap<String, String> = text.lines().filter_map(key).collect();
    let (keys, bases) = (keys(&fieldsheaf::plan::schema()), bases());
    assert!(keys.len() > 200, "{} keys", keys.len());
    let is_set = |key: &&Key| bases.iter().all(|base| places(&base.plan, &key.path).is_empty());
    let unset: Vec<String> = keys.iter().filter(is_set).map(Key::name).collect();
    assert_eq!(unset, Vec::<String>::new(), "keys that no plan of this test sets");

    let made: Vec<Result<String, String>> = keys.par_iter().map(|key| made_again(key, &bases, &known)).collect();
    let unused: Vec<&String> = made.iter().filter_map(|line| line.as_ref().err()).collect();
    assert_eq!(unused, Vec::<&String>::new(), "keys that change nothing anywhere: they are read and not used");
    let lines: Vec<String> = made.into_iter().flatten().collect();
    if std::env::var_os("BLESS").is_some() {
        #[expect(clippy::disallowed_methods, reason = "blessing writes the committed file")]
        std::fs::write(&file, lines.join("\n") + "\n").unwrap();
        return;
    }
    let differing: Vec<&String> =
        lines.iter().filter(|line| !text.lines().any(|known| known == line.as_str())).collect();
    assert_eq!(differing, Vec::<&String>::new(), "uses that are not those of uses.txt: read them, then bless");
    assert_eq!(lines.len(), text.lines().count(), "uses.txt has lines of keys that are no more: bless");
}

/// What is in the schema and what is read are the same: in every table of the plan, a key of no use is refused at its own line.
#[test]
fn a_key_that_nothing_uses_is_refused_in_every_table() {
    let (plan, mut count) = (bases().swap_remove(0).plan, 0);
    let changed = with_unknown(&plan, true, &mut count);
    let told = told(&toml::to_string(&changed).unwrap(), None);
    let unknown = &told.findings["unknown-key"];
    assert!(count > 60, "{count} tables");
    assert_eq!((unknown.len(), told.is_refused), (count, true));
    assert!(unknown.iter().all(|message| message.starts_with("unknown key `of-no-use`")), "{unknown:?}");
}

/// The plan with an unknown key in every table but the root and the columns of a roster, whose keys are those of its records.
fn with_unknown(value: &Value, is_root: bool, count: &mut usize) -> Value {
    match value {
        Value::Array(items) => Value::Array(items.iter().map(|item| with_unknown(item, false, count)).collect()),
        Value::Table(table) => {
            let mut changed = toml::Table::new();
            for (key, inner) in table {
                let is_of_roster = ["columns", "defaults"].contains(&key.as_str()) && inner.is_table();
                let inner = if is_of_roster { inner.clone() } else { with_unknown(inner, false, count) };
                changed.insert(key.clone(), inner);
            }
            if !is_root {
                *count += 1;
                changed.insert("of-no-use".to_owned(), Value::Integer(1));
            }
            Value::Table(changed)
        }
        other => other.clone(),
    }
}
