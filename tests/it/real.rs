//! Channel tables in the shape of published plans: of each every finding is known, word by word, and has been judged.

use fieldsheaf::cli::{DiskWorld, terminal};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The folders of `tests/real`, by name.
fn tables() -> BTreeMap<String, PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/real");
    let entries = std::fs::read_dir(root).unwrap().map(|entry| entry.unwrap().path());
    let name = |path: &PathBuf| path.file_name().unwrap().to_str().unwrap().to_owned();
    entries.filter(|path| path.is_dir()).map(|path| (name(&path), path)).collect()
}

fn checked(folder: &Path) -> fieldsheaf::Outcome {
    let (world, root) = DiskWorld::open(folder).unwrap();
    fieldsheaf::check(&world, &root).unwrap()
}

/// After an intended change: `BLESS=1 cargo test --test it real`, then judge each finding that came or went.
#[test]
fn a_published_table_raises_what_was_judged_right_and_nothing_else() {
    let tables = tables();
    assert!(tables.len() >= 10, "{} tables", tables.len());
    let said = |(name, folder): (&String, &PathBuf)| {
        let outcome = checked(folder);
        (format!("{name}/findings.txt"), terminal::full(&outcome.files, &outcome.findings, None, false))
    };
    crate::support::golden::compare("tests/real", "findings.txt", &tables.iter().map(said).collect());
}
