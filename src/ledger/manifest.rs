//! The manifest of a finished folder: TOML, the same bytes for the same kit.

use super::{Kit, KitFile, WrittenBytes, sha256};
use crate::ground::{FileId, Findings, Id, on_all_threads};
use crate::source::{Key, Node, Value, parse, quoted};
use std::collections::BTreeMap;
use std::fmt::{self, Write};

/// The name of the manifest in a finished folder.
pub const MANIFEST: &str = "MANIFEST.toml";

/// The format that this program writes and reads. Counts up when a key changes its meaning.
pub const FORMAT: u32 = 3;

/// The key of the hash of all that follows its line.
const REST: &str = "rest-sha256";

/// How every manifest begins.
pub const MANIFEST_HEAD: &str = "# Written by fieldsheaf. `fieldsheaf verify FOLDER` compares the folder with it.\n";

/// Why a text is no manifest of ours.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unread {
    /// It is something else.
    NotOurs,
    /// It is of this format, not of [`FORMAT`].
    Format(u32),
    /// It is not what was written, by its own hash.
    Changed,
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotOurs => f.write_str("was not written by fieldsheaf"),
            Self::Format(format) => {
                let age = if *format < FORMAT { "an older" } else { "a newer" };
                write!(f, "is a manifest of {age} fieldsheaf (format {format}; this version reads format {FORMAT})")
            }
            Self::Changed => f.write_str("was changed after fieldsheaf wrote it"),
        }
    }
}

/// What a finished folder is meant to hold.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Manifest {
    /// The plan's short name.
    pub plan: String,
    /// The plan's title.
    pub title: String,
    /// Whose plan it is.
    pub team: String,
    /// The edition's number.
    pub edition: u32,
    /// Whether it is a draft: not issued, of a plan whose editions are.
    pub is_draft: bool,
    /// What the plan was checked against.
    pub rule_set: String,
    /// The files, sorted by name.
    pub files: Vec<Entry>,
}

/// Values by the ids of holders, in the order of these: a list, since there are thousands with one holder each.
pub type ByHolder = Vec<(String, String)>;

fn by_holder(values: &BTreeMap<String, String>) -> ByHolder {
    values.iter().map(|(holder, value)| (holder.clone(), value.clone())).collect()
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
    /// Its pages; none of a file without any.
    pub pages: u64,
    /// The document kind.
    pub kind: String,
    /// Who may read it, as the plan writes it.
    pub audience: String,
    /// The id of whom it is for.
    pub holder: Option<String>,
    /// The files whose papers stand in it, where it is a set.
    pub parts: Vec<String>,
    /// The read-back code.
    pub code: Option<String>,
    /// SHA-256 of the canonical text that all copies share: it differs where what they say differs, whatever the edition's number.
    pub content: Option<String>,
    /// SHA-256 of each holder's own canonical text, by the holder's id: it shows whose copy says something else.
    pub holder_content: ByHolder,
    /// The code printed on each holder's own copy, by the holder's id.
    pub holder_code: ByHolder,
}

impl Entry {
    /// What the manifest says of a file.
    #[must_use]
    pub fn of(file: &KitFile) -> Self {
        let WrittenBytes { sha256, bytes } = file.written.clone().unwrap_or_else(|| WrittenBytes::of(&file.bytes));
        Self {
            name: file.name.clone(),
            sha256,
            bytes,
            kind: file.kind.clone(),
            audience: file.audience.to_string(),
            pages: u64::try_from(file.pages.len()).unwrap_or(u64::MAX),
            holder: file.holder.clone(),
            parts: file.parts.clone(),
            code: file.code.clone(),
            content: file.content.clone(),
            holder_content: by_holder(&file.holder_content),
            holder_code: by_holder(&file.holder_code),
        }
    }
}

impl Manifest {
    /// The manifest of a kit that is held in memory.
    #[must_use]
    pub fn of(kit: &Kit) -> Self {
        Self::listing(kit.with(on_all_threads(&kit.files, 1, Entry::of)))
    }

    /// The manifest of a kit of which only the entries were kept.
    #[must_use]
    pub fn listing(kit: Kit<Entry>) -> Self {
        let Kit { plan, title, team, edition, is_draft, rule_set, mut files } = kit;
        files.sort_by(|a, b| a.name.cmp(&b.name));
        Self { plan, title, team, edition, is_draft, rule_set, files }
    }

    /// The entry of a file.
    #[must_use]
    pub fn entry(&self, name: &str) -> Option<&Entry> {
        let at = self.files.binary_search_by(|entry| entry.name.as_str().cmp(name)).ok()?;
        self.files.get(at)
    }

    /// As TOML. The hash of what follows it stops accidents, not forgers: whoever changes a line can reckon a new one.
    #[must_use]
    pub fn to_text(&self) -> String {
        let rest = self.rest();
        format!("{MANIFEST_HEAD}format = {FORMAT}\n{REST} = \"{}\"\n{rest}", sha256(rest.as_bytes()))
    }

    fn rest(&self) -> String {
        let mut text = String::new();
        for (key, value) in [("plan", &self.plan), ("title", &self.title), ("team", &self.team)] {
            put(&mut text, key, value);
        }
        let _ = writeln!(text, "edition = {}", self.edition);
        if self.is_draft {
            text.push_str("draft = true\n");
        }
        put(&mut text, "rule-set", &self.rule_set);
        for entry in &self.files {
            text.push_str("\n[[file]]\n");
            put(&mut text, "name", &entry.name);
            put(&mut text, "sha256", &entry.sha256);
            let _ = writeln!(text, "bytes = {}", entry.bytes);
            if entry.pages > 0 {
                let _ = writeln!(text, "pages = {}", entry.pages);
            }
            put(&mut text, "kind", &entry.kind);
            put(&mut text, "audience", &entry.audience);
            for (key, value) in [("holder", &entry.holder), ("code", &entry.code), ("content", &entry.content)] {
                if let Some(value) = value {
                    put(&mut text, key, value);
                }
            }
            if !entry.parts.is_empty() {
                let parts: Vec<String> = entry.parts.iter().map(|part| quoted(part)).collect();
                let _ = writeln!(text, "parts = [{}]", parts.join(", "));
            }
            for (key, values) in [("holder-code", &entry.holder_code), ("holder-content", &entry.holder_content)] {
                if !values.is_empty() {
                    let _ = writeln!(text, "[file.{key}]");
                    values.iter().for_each(|(holder, value)| put(&mut text, holder, value));
                }
            }
        }
        text
    }

    /// Reads what [`Manifest::to_text`] wrote.
    ///
    /// # Errors
    /// When it is anything else, or names a file outside its folder.
    pub fn parse(text: &str) -> Result<Self, Unread> {
        if text.lines().next() != MANIFEST_HEAD.lines().next() {
            return Err(Unread::NotOurs);
        }
        let format = text.strip_prefix(MANIFEST_HEAD).and_then(|text| text.strip_prefix("format = "));
        let (format, text) = format.and_then(|text| text.split_once('\n')).ok_or(Unread::Changed)?;
        match format.parse().map_err(|_| Unread::Changed)? {
            FORMAT => {}
            other => return Err(Unread::Format(other)),
        }
        let (sum, rest) = text.split_once('\n').ok_or(Unread::Changed)?;
        if sum != format!("{REST} = \"{}\"", sha256(rest.as_bytes())) {
            return Err(Unread::Changed);
        }
        Self::of_rest(rest).ok_or(Unread::NotOurs)
    }

    fn of_rest(text: &str) -> Option<Self> {
        let mut found = Findings::default();
        let root = parse(FileId(0), text, &mut found);
        if !found.is_empty() {
            return None;
        }
        let files = match root.get("file") {
            None => Vec::new(),
            Some(Node { value: Value::List(nodes), .. }) => nodes.iter().map(entry).collect::<Option<Vec<_>>>()?,
            Some(_) => return None,
        };
        // Files are looked up by halving; two of one name could not stand in one folder.
        if !files.is_sorted_by(|a, b| a.name < b.name) {
            return None;
        }
        Some(Self {
            plan: word(&root, "plan")?,
            title: word(&root, "title")?,
            team: word(&root, "team")?,
            edition: u32::try_from(number(&root, "edition")?).ok()?,
            is_draft: root.get("draft").is_some_and(|node| matches!(node.value, Value::Flag(true))),
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
        pages: number(node, "pages").unwrap_or(0),
        holder: word(node, "holder"),
        parts: list(node, "parts")?,
        code: word(node, "code"),
        content: word(node, "content"),
        holder_content: words(node, "holder-content")?,
        holder_code: words(node, "holder-code")?,
    })
}

/// A table of texts by id; empty where there is none.
fn words(node: &Node, key: &str) -> Option<ByHolder> {
    let Some(table) = node.get(key) else { return Some(Vec::new()) };
    let text = |(key, node): &(Key, Node)| match &node.value {
        Value::Text(text) => Some((Id::parse(&key.text).ok()?.to_string(), text.clone())),
        _ => None,
    };
    let words: BTreeMap<String, String> = table.entries()?.iter().map(text).collect::<Option<_>>()?;
    Some(words.into_iter().collect())
}

/// A list of texts; empty where there is none.
fn list(node: &Node, key: &str) -> Option<Vec<String>> {
    match node.get(key).map(|node| &node.value) {
        None => Some(Vec::new()),
        Some(Value::List(items)) => items.iter().map(|item| item.text().map(str::to_owned)).collect(),
        Some(_) => None,
    }
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

/// `key = "value"`.
fn put(text: &mut String, key: &str, value: &str) {
    let _ = writeln!(text, "{key} = {}", quoted(value));
}

#[cfg(test)]
mod tests {
    use super::{Entry, FORMAT, Manifest, Unread, is_plain_name};

    fn sample() -> Manifest {
        let entry = |name: &str, holder: Option<&str>| Entry {
            name: name.to_owned(),
            sha256: "00ff".to_owned(),
            bytes: 7,
            pages: 2,
            parts: holder.map(|_| "a.pdf".to_owned()).into_iter().collect(),
            kind: "channel-card".to_owned(),
            audience: "team".to_owned(),
            holder: holder.map(str::to_owned),
            code: Some("FMRX".to_owned()),
            content: Some("00ff00ff".to_owned()),
            holder_content: holder.map(|holder| (holder.to_owned(), "ff00".to_owned())).into_iter().collect(),
            holder_code: holder.map(|holder| (holder.to_owned(), "KTXR".to_owned())).into_iter().collect(),
        };
        Manifest {
            plan: "A \"B\" \\ \u{1} é".to_owned(),
            title: "Title".to_owned(),
            team: "Team".to_owned(),
            edition: 7,
            is_draft: true,
            rule_set: "us 2026-11-01".to_owned(),
            files: vec![entry("a.pdf", None), entry("b.pdf", Some("qra"))],
        }
    }

    #[test]
    fn a_manifest_reads_back_as_it_was_written() {
        assert_eq!(Manifest::parse(&sample().to_text()), Ok(sample()));
    }

    #[test]
    fn a_manifest_of_another_format_is_not_read_and_says_of_which_it_is() {
        let other = sample().to_text().replace(&format!("format = {FORMAT}"), "format = 999");
        assert_eq!(Manifest::parse(&other), Err(Unread::Format(999)));
        assert_eq!(Manifest::parse("name = \"a\"\n"), Err(Unread::NotOurs));
    }

    /// Any single letter of it changed, left out or doubled, and it is known for changed or for none of ours.
    #[test]
    fn a_manifest_that_was_changed_anywhere_is_not_read() {
        let text = sample().to_text();
        for (at, c) in text.char_indices() {
            let (head, tail) = (&text[..at], &text[at + c.len_utf8()..]);
            for other in [String::new(), format!("{c}{c}"), "~".to_owned()] {
                let changed = format!("{head}{other}{tail}");
                assert!(Manifest::parse(&changed).is_err(), "{changed}");
            }
        }
    }

    /// A holder is an id: any other word would not be read again as it was written.
    #[test]
    fn a_manifest_with_a_holder_that_is_no_id_is_not_read() {
        for holder in ["leads.toml", "a b", "", "QRA"] {
            let mut other = sample();
            other.files[1].holder_content = [(holder.to_owned(), "ff".to_owned())].into();
            let quoted = other.to_text().replace(&format!("\n{holder} = "), &format!("\n\"{holder}\" = "));
            let (head, rest) = quoted.split_once("plan = ").unwrap();
            let rest = format!("plan = {rest}");
            let (head, _) = head.split_once("rest-sha256").unwrap();
            let text = format!("{head}rest-sha256 = \"{}\"\n{rest}", crate::ledger::sha256(rest.as_bytes()));
            assert_eq!(Manifest::parse(&text), Err(Unread::NotOurs), "{holder}");
        }
    }

    #[test]
    fn a_manifest_that_names_a_file_elsewhere_is_not_read() {
        for name in ["../a.pdf", "/etc/passwd", ".a", "x/a.pdf"] {
            let mut other = sample();
            other.files[0].name = name.to_owned();
            assert_eq!(Manifest::parse(&other.to_text()), Err(Unread::NotOurs), "{name}");
            assert!(!is_plain_name(name), "{name}");
        }
    }
}
