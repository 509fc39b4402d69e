//! Texts that are committed beside a test, compared whole, and renewed by one command.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Compares texts with the files of a folder, by path from the repository's root. With `BLESS=1` in the environment the files become
/// what the texts say; read the difference in review.
///
/// Of a differing file the first lines that differ are told. A file under `folder` that ends in `ending` and has no text is a fault as
/// well: what it said is said no more.
#[expect(clippy::disallowed_methods, reason = "a test reads and renews its fixtures")]
pub fn compare(folder: &str, ending: &str, texts: &BTreeMap<String, String>) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let blessing = std::env::var_os("BLESS").is_some();
    let mut faults = Vec::new();
    for name in listed(&root, "", ending).difference(&texts.keys().cloned().collect()) {
        match blessing {
            true => std::fs::remove_file(root.join(name)).unwrap(),
            false => faults.push(format!("{folder}/{name}: nothing says this any more")),
        }
    }
    for (name, text) in texts {
        let path = root.join(name);
        let committed = std::fs::read_to_string(&path).unwrap_or_default();
        if committed == *text {
            continue;
        }
        if blessing {
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(&path, text).unwrap();
        } else {
            faults.push(format!("{folder}/{name}:\n{}", difference(&committed, text)));
        }
    }
    assert!(faults.is_empty(), "read what changed, then renew it with BLESS=1\n{}", faults.join("\n"));
}

/// Names of the files below a folder, folders and all.
fn listed(root: &Path, below: &str, ending: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for entry in std::fs::read_dir(root.join(below)).into_iter().flatten() {
        let entry = entry.unwrap();
        let name = format!("{below}{}", entry.file_name().into_string().unwrap());
        if entry.file_type().unwrap().is_dir() {
            names.extend(listed(root, &format!("{name}/"), ending));
        } else if name.ends_with(ending) {
            names.insert(name);
        }
    }
    names
}

/// The first lines that two texts do not share, the committed ones after `-`.
fn difference(committed: &str, text: &str) -> String {
    const SHOWN: usize = 12;
    let (old, new): (Vec<&str>, Vec<&str>) = (committed.lines().collect(), text.lines().collect());
    let same = old.iter().zip(&new).take_while(|(old, new)| old == new).count();
    let (mut old, mut new) = (old.get(same..).unwrap_or_default(), new.get(same..).unwrap_or_default());
    while let ([old_rest @ .., a], [new_rest @ .., b]) = (old, new)
        && a == b
    {
        (old, new) = (old_rest, new_rest);
    }
    let marked = |mark: &str, lines: &[&str]| {
        let shown = lines.iter().take(SHOWN).map(|line| format!("  {mark} {line}\n")).collect::<String>();
        let more = lines.len().saturating_sub(SHOWN);
        if more > 0 { format!("{shown}  {mark} and {more} lines more\n") } else { shown }
    };
    format!("  from line {}\n{}{}", same + 1, marked("-", old), marked("+", new))
}
