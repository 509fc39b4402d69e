//! The plan's files: the root, and what it includes.

use super::node::{Key, Node, Value};
use super::rules::{
    FILE_NOT_TEXT, FILE_TOO_LARGE, FILE_UNREADABLE, INCLUDE_CIRCLE, INCLUDE_FINDS_NOTHING, INCLUDE_LEAVES_FOLDER,
    MORE_THAN_TAKEN, NESTING_TOO_DEEP, SYNTAX,
};
use super::table::fill;
use super::toml_parts::parse_on_all_threads;
use super::toml_text::parse;
use crate::ground::{Failure, FileId, Files, Finding, Findings, ReadFault, Span, World, caps, nearest};
use globset::GlobBuilder;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Largest file read, in bytes.
pub const FILE_LIMIT: u64 = caps::PLAN_FILE.most;

/// Editions that were issued, beside the plan's own files and no part of it: no pattern means them.
pub const EDITIONS: &str = "editions.toml";
/// The folder of plans as they were issued.
pub const ISSUED: &str = "issued";

/// A top-level record: `[[channel]]`, `[plan]`, or a row of a table.
#[derive(Clone, Debug)]
pub struct WrittenRecord {
    /// The kind as written: `channel`.
    pub kind: Key,
    /// Its fields.
    pub node: Node,
    /// How many of them it has itself: those behind count by default.
    pub own: usize,
}

impl WrittenRecord {
    /// A record that says all of its fields itself.
    #[must_use]
    pub fn new(kind: Key, node: Node) -> Self {
        let own = node.entries().map_or(0, <[_]>::len);
        Self { kind, node, own }
    }

    /// Adds what counts by default where it says nothing.
    pub fn fill(&mut self, defaults: &[(Key, Node)]) {
        if let Value::Table(entries) = &mut self.node.value {
            fill(entries, defaults);
        }
    }
}

/// All records of a plan.
#[derive(Clone, Debug, Default)]
pub struct Records {
    /// The files read, in the order of reading.
    pub files: Files,
    /// The records, file by file.
    pub list: Vec<WrittenRecord>,
    /// A file could not be read to its end: what only follows from that is held back.
    pub is_cut: bool,
    /// The files with syntax faults, in which keys and records may have been swallowed.
    pub torn: Vec<FileId>,
}

impl Records {
    /// Leaves the documents out that the files order, with the kits made of them, and takes those of a text in their place.
    pub fn order(&mut self, text: &str, found: &mut Findings) {
        self.list.retain(|record| !["document", "kit"].contains(&record.kind.text.as_str()));
        let file = self.files.add("the command", text);
        let root = parse(file, text, found);
        for (kind, node) in root.entries().unwrap_or_default() {
            let nodes = match &node.value {
                Value::List(items) => items.clone(),
                _ => vec![node.clone()],
            };
            self.list.extend(nodes.into_iter().map(|node| WrittenRecord::new(kind.clone(), node)));
        }
    }
}

/// Reads a plan from its root file.
///
/// # Errors
/// When the root file itself cannot be read, or the folder cannot be listed: the program cannot run.
pub fn read(world: &dyn World, root: &str, found: &mut Findings) -> Result<Records, Failure> {
    read_showing(world, root, found, &|_| ())
}

/// The same; the root file is shown before it is read, so that what it will ask for can be begun.
///
/// # Errors
/// As [`read`].
pub fn read_showing(
    world: &dyn World,
    root: &str,
    found: &mut Findings,
    show: &dyn Fn(&[u8]),
) -> Result<Records, Failure> {
    let bytes = world.read(root, FILE_LIMIT).map_err(|fault| Failure::new(root, explain(&fault)))?;
    show(&bytes);
    let place = world.place_of(root).unwrap_or_else(|_| root.to_owned());
    let places = BTreeSet::from([place.clone()]);
    let mut reader = Reader { world, records: Records::default(), places, listing: None, found };
    reader.file(root, bytes, Span::NOWHERE, &mut vec![place])?;
    Ok(reader.records)
}

/// Reads the records of a kind from a file that is none of the plan's, and takes them beside the plan's; what else stands there is left
/// alone. The files in which they stand, to tell them from the plan's own.
///
/// # Errors
/// When it cannot be read, or has no such record and no fault either.
pub fn read_beside(
    records: &mut Records,
    (world, root): (&dyn World, &str),
    kind: &str,
    found: &mut Findings,
) -> Result<BTreeSet<FileId>, Failure> {
    let bytes = world.read(root, FILE_LIMIT).map_err(|fault| Failure::new(root, explain(&fault)))?;
    let (own, errors) = (std::mem::take(records), found.errors());
    let before = own.list.len();
    let place = world.place_of(root).unwrap_or_else(|_| root.to_owned());
    let mut reader = Reader { world, records: own, places: BTreeSet::from([place.clone()]), listing: None, found };
    let done = reader.file(root, bytes, Span::NOWHERE, &mut vec![place]);
    *records = reader.records;
    done?;
    let mut beside = records.list.split_off(before);
    beside.retain_mut(|record| is_of_kind(record, kind));
    if beside.is_empty() && found.errors() == errors {
        return Err(Failure::new(root, format!("this file has no [[{kind}]]")));
    }
    let files = beside.iter().map(|record| record.kind.span.file).collect();
    records.list.append(&mut beside);
    Ok(files)
}

/// Whether a record is of a kind, or counts by default in those of it, or may be one whose name is mistyped.
fn is_of_kind(record: &mut WrittenRecord, kind: &str) -> bool {
    match &mut record.node.value {
        Value::Table(entries) if record.kind.text == "defaults" => {
            entries.retain(|(key, _)| key.text == kind);
            !entries.is_empty()
        }
        _ => nearest(&record.kind.text, [kind]).is_some(),
    }
}

/// The finding of a file that is more than is taken beside the others.
pub(super) fn too_much(name: &str, why: &str, span: Span) -> Finding {
    Finding::new(&MORE_THAN_TAKEN, span, format!("{name} is not read: {why}"))
        .label("too much with this file")
        .help("leave out what is no part of the plan, or make two plans of it")
}

pub(super) fn explain(fault: &ReadFault) -> String {
    match fault {
        ReadFault::Missing => "there is no such file".to_owned(),
        ReadFault::NotAFile => "this is not a file".to_owned(),
        ReadFault::TooLarge(size) => format!("{size} bytes are more than the {FILE_LIMIT} that a file may have"),
        ReadFault::OutsideFolder => "this leads out of the plan's folder".to_owned(),
        ReadFault::Refused(cause) => cause.clone(),
    }
}

struct Reader<'a> {
    world: &'a dyn World,
    records: Records,
    /// Where the files truly stand that were read, each once.
    places: BTreeSet<String>,
    listing: Option<Vec<String>>,
    found: &'a mut Findings,
}

impl Reader<'_> {
    fn file(&mut self, name: &str, bytes: Vec<u8>, asked: Span, above: &mut Vec<String>) -> Result<(), Failure> {
        let text = match String::from_utf8(bytes) {
            Ok(text) => text,
            Err(fault) => {
                self.not_text(name, &fault, asked);
                return Ok(());
            }
        };
        if let Some(why) = self.records.files.too_much(&text) {
            self.too_much(name, &why, asked);
            return Ok(());
        }
        let before = self.found.len();
        let text: Arc<str> = text.into();
        let id = self.records.files.add(name, Arc::clone(&text));
        let root = parse_on_all_threads(id, &text, self.found);
        let is_torn = |finding: &Finding| [&SYNTAX, &NESTING_TOO_DEEP].contains(&finding.rule);
        if self.found.iter().skip(before).any(is_torn) {
            self.records.is_cut = true;
            self.records.torn.push(id);
        }
        let Value::Table(entries) = root.value else { return Ok(()) };
        let mut patterns = Vec::new();
        for (kind, node) in entries {
            if kind.text == "include" {
                patterns.push(node);
                continue;
            }
            if kind.text == "plan" {
                patterns.extend(node.get("include").cloned());
            }
            self.take(kind, node);
        }
        for node in patterns {
            self.include(&node, above)?;
        }
        Ok(())
    }

    fn take(&mut self, kind: Key, node: Node) {
        let is_records =
            |items: &[Node]| !items.is_empty() && items.iter().all(|item| matches!(item.value, Value::Table(_)));
        match node.value {
            Value::List(items) if is_records(&items) => {
                self.records.list.extend(items.into_iter().map(|node| WrittenRecord::new(kind.clone(), node)));
            }
            value => self.records.list.push(WrittenRecord::new(kind, Node { value, span: node.span })),
        }
    }

    fn not_text(&mut self, name: &str, fault: &std::string::FromUtf8Error, asked: Span) {
        // The file is kept as far as it is text, so that the finding can show its place.
        let valid = fault.utf8_error().valid_up_to();
        let head = String::from_utf8_lossy(fault.as_bytes().get(..valid).unwrap_or_default()).into_owned();
        let id: FileId = self.records.files.add(name, head);
        let finding = Finding::new(
            &FILE_NOT_TEXT,
            Span::new(id, valid, valid),
            format!("{name} is not UTF-8 text from byte {} on", valid + 1),
        )
        .label("the first byte that is not text comes after this")
        .help("save the file as UTF-8");
        self.found.push(if asked.is_somewhere() { finding.and(asked, "included here") } else { finding });
        self.records.is_cut = true;
    }

    fn too_much(&mut self, name: &str, why: &str, asked: Span) {
        let span = if asked.is_somewhere() { asked } else { Span::new(self.records.files.add(name, ""), 0, 0) };
        self.found.push(too_much(name, why, span));
        self.records.is_cut = true;
    }

    fn include(&mut self, node: &Node, above: &mut Vec<String>) -> Result<(), Failure> {
        let items = match &node.value {
            Value::List(items) => items.iter().collect(),
            _ => vec![node],
        };
        for item in items {
            let Value::Text(pattern) = &item.value else {
                let what = format!("{} stands where a file name is wanted", item.kind());
                self.found.push(
                    Finding::new(&INCLUDE_FINDS_NOTHING, item.span, what).help("write include = [\"channels.toml\"]"),
                );
                continue;
            };
            for name in self.matching(pattern, item.span)? {
                self.included(&name, item.span, above)?;
            }
        }
        Ok(())
    }

    fn included(&mut self, name: &str, asked: Span, above: &mut Vec<String>) -> Result<(), Failure> {
        // A name that leads nowhere is reported when it is read.
        let place = self.world.place_of(name).unwrap_or_else(|_| name.to_owned());
        if above.contains(&place) {
            let circle = format!("{} > {name}", above.join(" > "));
            let finding = Finding::new(&INCLUDE_CIRCLE, asked, format!("include goes in a circle: {circle}"));
            self.found.push(finding.label("includes a file that includes this one").help("remove this name"));
            return Ok(());
        }
        if self.places.contains(&place) {
            return Ok(());
        }
        if u64::try_from(self.places.len()).is_ok_and(|read| read >= caps::PLAN_FILES.most) {
            return Err(Failure::new(name, format!("a plan may have {} files", caps::PLAN_FILES.most)));
        }
        self.places.insert(place.clone());
        match self.world.read(name, FILE_LIMIT) {
            Ok(bytes) => {
                above.push(place);
                let result = self.file(name, bytes, asked, above);
                above.pop();
                result
            }
            Err(fault) => {
                self.unreadable(name, &fault, asked);
                Ok(())
            }
        }
    }

    fn unreadable(&mut self, name: &str, fault: &ReadFault, asked: Span) {
        let rule = match fault {
            ReadFault::OutsideFolder => &INCLUDE_LEAVES_FOLDER,
            ReadFault::TooLarge(_) => &FILE_TOO_LARGE,
            _ => &FILE_UNREADABLE,
        };
        self.found.push(
            Finding::new(rule, asked, format!("{name} cannot be read: {}", explain(fault))).label("asked for here"),
        );
        self.records.is_cut = true;
    }

    /// The files that a name or pattern stands for, sorted.
    fn matching(&mut self, pattern: &str, asked: Span) -> Result<Vec<String>, Failure> {
        let leaves = pattern.starts_with('/') || pattern.contains('\\') || pattern.split('/').any(|part| part == "..");
        if leaves {
            let finding =
                Finding::new(&INCLUDE_LEAVES_FOLDER, asked, format!("\"{pattern}\" leads out of the plan's folder"));
            self.found.push(finding.label("not below plan.toml").help("copy the file into the plan's folder"));
            return Ok(Vec::new());
        }
        if !pattern.contains(['*', '?', '[', '{']) {
            return Ok(vec![pattern.trim_start_matches("./").to_owned()]);
        }
        let Ok(glob) = GlobBuilder::new(pattern).literal_separator(true).build() else {
            let what = format!("\"{pattern}\" is not a pattern");
            self.found.push(
                Finding::new(&INCLUDE_FINDS_NOTHING, asked, what).help("write a name or a pattern as \"forms/*.toml\""),
            );
            return Ok(Vec::new());
        };
        if self.listing.is_none() {
            self.listing = Some(self.world.list()?);
        }
        let matcher = glob.compile_matcher();
        // What was issued is no part of what is to be issued.
        let is_plan = |name: &&String| *name != EDITIONS && name.split('/').next() != Some(ISSUED);
        let listed = self.listing.iter().flatten().filter(is_plan);
        let names: Vec<String> = listed.filter(|name| matcher.is_match(name)).cloned().collect();
        if names.is_empty() {
            let what = format!("no file matches \"{pattern}\"");
            self.found.push(Finding::new(&INCLUDE_FINDS_NOTHING, asked, what).label("finds nothing"));
        }
        Ok(names)
    }
}
