//! Where records are gathered: one, many with ids, or many without.

use super::reference::Record;
use super::register::Register;
use super::rules::{DUPLICATE_ID, REPEATED_TABLE};
use super::sequence::Sequence;
use crate::ground::{At, Finding, Findings, Id, Span, Subject};
use crate::source::{self, Declared, Habits, KeySchemas, Meant, Mention, Reading, RecordTable, Schemas};
use serde_json::json;

/// What goes along while records are gathered.
pub struct Gather<'a> {
    /// What the profile says of values that are left out.
    pub habits: &'a Habits,
    /// Where findings go.
    pub found: &'a mut Findings,
    /// Which ids were named, and by whom; none for a record without an id.
    pub mentions: Vec<(Option<Subject>, Mention)>,
}

/// All records of one kind.
pub trait RecordShelf {
    /// One of them.
    type Record;
    /// The kind, as written at the top of a file.
    const KIND: &'static str;
    /// Whether a plan may have many of it, and so tables of them.
    const IS_MANY: bool = true;
    /// A record as it would be typed in a TOML file.
    fn plain(node: &source::Node) -> source::Node;
    /// Understands a record and keeps it.
    fn take(&mut self, record: &source::WrittenRecord, gather: &mut Gather<'_>);
    /// Whether a record of this id was written, refused or not.
    fn knows(&self, _: &Id) -> bool {
        false
    }
    /// The ids of those that were not refused.
    fn ids(&self) -> Vec<&Id> {
        Vec::new()
    }
    /// Those of them that are open to a reader.
    #[must_use]
    fn of_those(&self, is_open: impl Fn(&Self::Record) -> bool) -> Self;
    /// How many there are.
    fn count(&self) -> usize;
    /// Describes the kind.
    fn describe(keys: &mut KeySchemas, schemas: &mut Schemas);
}

/// Understands a record; none when anything in it was refused or is missing. What it mentions is looked up only when nothing was.
fn understood<T: Meant>(
    record: &source::WrittenRecord,
    subject: fn(&T) -> Option<Subject>,
    gather: &mut Gather<'_>,
) -> Option<T> {
    let errors_before = gather.found.errors();
    let mut mentions = Vec::new();
    let meant = source::record_of::<T>(
        &record.node,
        &mut Reading {
            kind: T::Written::KIND,
            span: header(record),
            within: None,
            habits: gather.habits,
            found: &mut *gather.found,
            mentions: &mut mentions,
        },
    )
    .filter(|_| gather.found.errors() == errors_before)?;
    let subject = subject(&meant);
    gather.mentions.extend(mentions.into_iter().map(|mention| (subject.clone(), mention)));
    Some(meant)
}

/// Where a record begins: its header, or its key where the table has none.
pub(super) fn header(record: &source::WrittenRecord) -> Span {
    if record.node.span.end > record.node.span.start { record.node.span } else { record.kind.span }
}

impl<T: Meant + Clone> RecordShelf for Option<T> {
    type Record = T;
    const KIND: &'static str = T::Written::KIND;
    const IS_MANY: bool = false;

    fn plain(node: &source::Node) -> source::Node {
        source::plain_record::<T>(node)
    }
    fn take(&mut self, record: &source::WrittenRecord, gather: &mut Gather<'_>) {
        if self.is_some() {
            let finding = Finding::new(&REPEATED_TABLE, record.kind.span, format!("a second [{}] table", Self::KIND));
            gather.found.push(finding.label("only one may stand in a plan").help("remove one of them"));
            return;
        }
        *self = understood(record, |_| None, gather);
    }
    fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        self.as_ref().filter(|record| is_open(record)).cloned()
    }
    fn count(&self) -> usize {
        usize::from(self.is_some())
    }
    fn describe(keys: &mut KeySchemas, schemas: &mut Schemas) {
        keys.key(Self::KIND, T::Written::DOC, source::schema_of::<T>(schemas));
    }
}

impl<T: Meant + Clone> RecordShelf for Sequence<T> {
    type Record = T;
    const KIND: &'static str = T::Written::KIND;

    fn plain(node: &source::Node) -> source::Node {
        source::plain_record::<T>(node)
    }
    fn take(&mut self, record: &source::WrittenRecord, gather: &mut Gather<'_>) {
        understood(record, |_| None, gather).into_iter().for_each(|record| self.push(record));
    }
    fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        self.of_those(is_open)
    }
    fn count(&self) -> usize {
        self.len()
    }
    fn describe(keys: &mut KeySchemas, schemas: &mut Schemas) {
        describe_list::<T>(keys, schemas);
    }
}

impl<T: Meant + Record + Clone> RecordShelf for Register<T> {
    type Record = T;
    const KIND: &'static str = T::Written::KIND;

    fn plain(node: &source::Node) -> source::Node {
        source::plain_record::<T>(node)
    }
    fn take(&mut self, record: &source::WrittenRecord, gather: &mut Gather<'_>) {
        let id = record.node.get("id").and_then(source::Node::text).and_then(|text| Id::parse(text).ok());
        let Some(meant) = understood(record, |record: &T| Some(super::subject(record)), gather) else {
            id.into_iter().for_each(|id| self.refuse(id));
            return;
        };
        let Err(second) = self.add(meant) else { return };
        let (kind, id): (_, &At<Id>) = (T::KIND, second.id());
        let is_made = |key: &&str| *key != "id" && record.node.get(key).is_some_and(|node| node.span == id.span);
        let is_made = T::ID_FROM.iter().any(is_made);
        let first = self.named(id).map_or(Span::NOWHERE, |first| first.id().span);
        gather.found.push(
            Finding::new(&DUPLICATE_ID, id.span, format!("two records are {kind}/{}", id.value))
                .label("second record of this id")
                .and(first, "first record of this id")
                .on(super::subject(&second))
                .help(if is_made {
                    format!("add `id = \"{}-2\"` to one of them: without one it is made of what it is called", id.value)
                } else {
                    "give one of them another id".to_owned()
                }),
        );
    }
    fn knows(&self, id: &Id) -> bool {
        self.knows(id)
    }
    fn of_those(&self, is_open: impl Fn(&T) -> bool) -> Self {
        self.of_those(is_open)
    }
    fn count(&self) -> usize {
        self.len()
    }
    fn ids(&self) -> Vec<&Id> {
        self.ids().collect()
    }
    fn describe(keys: &mut KeySchemas, schemas: &mut Schemas) {
        describe_list::<T>(keys, schemas);
        if T::ID_FROM != ["id"] {
            schemas.unrequire(T::KIND, "id");
        }
    }
}

/// What a table of records of a kind is called: `channels`, `duties`.
pub(super) fn plural_of(kind: &str) -> String {
    let stem = kind.strip_suffix('y').filter(|stem| !stem.ends_with(['a', 'e', 'o', 'u']));
    stem.map_or_else(|| format!("{kind}s"), |stem| format!("{stem}ies"))
}

fn describe_list<T: Meant>(keys: &mut KeySchemas, schemas: &mut Schemas) {
    let table = source::schema_of::<RecordTable>(schemas);
    keys.key(
        &plural_of(T::Written::KIND),
        &["Records of this kind from a CSV file or a sheet of a spreadsheet."],
        table,
    );
    keys.key(T::Written::KIND, T::Written::DOC, json!({ "type": "array", "items": source::schema_of::<T>(schemas) }));
}
