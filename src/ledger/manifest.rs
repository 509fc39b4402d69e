//! The manifest of a finished folder: TOML, the same bytes for the same kit.

use super::{Kit, sha256};
use crate::ground::{FileId, Findings};
use crate::source::{Node, Value, parse};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use std::fmt::Write;

/// The name of the manifest in a finished folder.
pub const MANIFEST: &str = "MANIFEST.toml";

/// The format that this program writes and reads. Counts up when a key changes its meaning.
pub const FORMAT: u32 = 1;

/// What a finished folder is meant to hold.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Manifest {
    /// The plan's short name.
    pub plan: String,
    /// The edition's number.
    pub edition: u32,
    /// What the plan was checked against.
    pub rule_set: String,
    /// The files, sorted by name.
    pub files: Vec<Entry>,
}

/// One file of a manifest.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry {
    /// Plain file name.
    pub name: String,
    /// SHA-256 in small hexadecimal digits.
    pub sha256: String,
    /// Size in bytes.
    pub bytes: u64,
    /// The document kind.
    pub kind: String,
    /// Who may read it, as the plan writes it.
    pub audience: String,
    /// The id of whom it is for.
    pub holder: Option<String>,
    /// The read-back code.
    pub code: Option<String>,
}

impl Manifest {
    /// The manifest of a kit.
    #[must_use]
    pub fn of(kit: &Kit) -> Self {
        let entry = |file: &super::KitFile| Entry {
            name: file.name.clone(),
            sha256: sha256(&file.bytes),
            bytes: u64::try_from(file.bytes.len()).unwrap_or(u64::MAX),
            kind: file.kind.clone(),
            audience: file.audience.to_string(),
            holder: file.holder.clone(),
            code: file.code.clone(),
        };
        let mut files: Vec<Entry> = kit.files.par_iter().map(entry).collect();
        files.sort_by(|a, b| a.name.cmp(&b.name));
        Self { plan: kit.plan.clone(), edition: kit.edition, rule_set: kit.rule_set.clone(), files }
    }

    /// The entry of a file.
    #[must_use]
    pub fn entry(&self, name: &str) -> Option<&Entry> {
        self.files.iter().find(|entry| entry.name == name)
    }

    /// As TOML.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text =
            String::from("# Written by fieldsheaf. `fieldsheaf verify FOLDER` compares the folder with it.\n");
        let _ = writeln!(text, "format = {FORMAT}");
        put(&mut text, "plan", &self.plan);
        let _ = writeln!(text, "edition = {}", self.edition);
        put(&mut text, "rule-set", &self.rule_set);
        for entry in &self.files {
            text.push_str("\n[[file]]\n");
            put(&mut text, "name", &entry.name);
            put(&mut text, "sha256", &entry.sha256);
            let _ = writeln!(text, "bytes = {}", entry.bytes);
            put(&mut text, "kind", &entry.kind);
            put(&mut text, "audience", &entry.audience);
            for (key, value) in [("holder", &entry.holder), ("code", &entry.code)] {
                if let Some(value) = value {
                    put(&mut text, key, value);
                }
            }
        }
        text
    }

    /// Reads what [`Manifest::to_text`] wrote. None when it is anything else, or names a file outside its folder.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut found = Findings::default();
        let root = parse(FileId(0), text, &mut found);
        if !found.is_empty() || number(&root, "format")? != u64::from(FORMAT) {
            return None;
        }
        let files = match root.get("file") {
            None => Vec::new(),
            Some(Node { value: Value::List(nodes), .. }) => nodes.iter().map(entry).collect::<Option<_>>()?,
            Some(_) => return None,
        };
        Some(Self {
            plan: word(&root, "plan")?,
            edition: u32::try_from(number(&root, "edition")?).ok()?,
            rule_set: word(&root, "rule-set")?,
            files,
        })
    }
}

/// Whether a name is one that this program gives: no folder, not hidden, nothing that a terminal or a file system reads otherwise.
#[must_use]
pub fn is_plain_name(name: &str) -> bool {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    !name.is_empty() && !name.starts_with('.') && name.chars().all(is_plain)
}

fn entry(node: &Node) -> Option<Entry> {
    Some(Entry {
        name: word(node, "name").filter(|name| is_plain_name(name))?,
        sha256: word(node, "sha256")?,
        bytes: number(node, "bytes")?,
        kind: word(node, "kind")?,
        audience: word(node, "audience")?,
        holder: word(node, "holder"),
        code: word(node, "code"),
    })
}

fn word(node: &Node, key: &str) -> Option<String> {
    match &node.get(key)?.value {
        Value::Text(text) => Some(text.clone()),
        _ => None,
    }
}

fn number(node: &Node, key: &str) -> Option<u64> {
    match node.get(key)?.value {
        Value::Integer(number) => u64::try_from(number).ok(),
        _ => None,
    }
}

/// `key = "value"` with what TOML 1.0 wants escaped in a basic string.
fn put(text: &mut String, key: &str, value: &str) {
    let _ = write!(text, "{key} = \"");
    for c in value.chars() {
        match c {
            '"' | '\\' => text.extend(['\\', c]),
            c if c.is_control() => {
                let _ = write!(text, "\\u{:04X}", u32::from(c));
            }
            c => text.push(c),
        }
    }
    text.push_str("\"\n");
}

#[cfg(test)]
mod tests {
    use super::{Entry, FORMAT, Manifest, is_plain_name};

    fn sample() -> Manifest {
        let entry = |name: &str, holder: Option<&str>| Entry {
            name: name.to_owned(),
            sha256: "00ff".to_owned(),
            bytes: 7,
            kind: "channel-card".to_owned(),
            audience: "team".to_owned(),
            holder: holder.map(str::to_owned),
            code: Some("FMRX".to_owned()),
        };
        Manifest {
            plan: "A \"B\" \\ \u{1} é".to_owned(),
            edition: 7,
            rule_set: "us 2026-11-01".to_owned(),
            files: vec![entry("a.pdf", None), entry("b.pdf", Some("qra"))],
        }
    }

    #[test]
    fn a_manifest_reads_back_as_it_was_written() {
        assert_eq!(Manifest::parse(&sample().to_text()), Some(sample()));
    }

    #[test]
    fn a_manifest_of_another_format_is_not_read() {
        let other = sample().to_text().replace(&format!("format = {FORMAT}"), "format = 999");
        assert_eq!(Manifest::parse(&other), None);
    }

    #[test]
    fn a_manifest_that_names_a_file_elsewhere_is_not_read() {
        for name in ["../a.pdf", "/etc/passwd", ".a", "x/a.pdf"] {
            assert_eq!(Manifest::parse(&sample().to_text().replace("a.pdf", name)), None, "{name}");
            assert!(!is_plain_name(name), "{name}");
        }
    }
}
