//! All records of a plan, understood one by one; then their links.

use super::links;
use super::model::{Form, Plan};
use super::need::Need;
use super::register::{Record as Named, Register};
use super::rules::{DUPLICATE_ID, NO_PLAN_TABLE, REPEATED_TABLE};
use super::written::{WrittenHead, WrittenPlan};
use super::{mean_forms, mean_people, mean_radio};
use crate::ground::caps::RECORDS;
use crate::ground::{At, Finding, Findings, Id, Span, Subject, World};
use crate::source::{
    self, Key, MISSING_KEY, MORE_THAN_TAKEN, Node, Record, Records, UNKNOWN_KEY, UNKNOWN_RECORD, Value,
};
use crate::tables::{self, Profile};
use serde::de::DeserializeOwned;

/// The kinds of records a plan may hold, as written at the top of a file.
pub const RECORD_KINDS: &[&str] = &[
    "plan",
    "edition",
    "incident",
    "repeater",
    "channel",
    "gateway",
    "link",
    "place",
    "member",
    "agreement",
    "neighbour",
    "pool",
    "radio",
    "net",
    "post",
    "duty",
    "form",
    "document",
    "accept",
];

/// Understands all records. Adds the roster's files to `records`.
pub fn build(world: &dyn World, records: &mut Records, found: &mut Findings) -> Plan {
    let mut list = std::mem::take(&mut records.list);
    for record in &mut list {
        if let Some(ours) = source::respelled(&record.kind.text, RECORD_KINDS) {
            ours.clone_into(&mut record.kind.text);
        }
    }
    let head = head_of(&list);
    // Before all else: what is left out, and which words a class has, are as the profile says.
    let name = head.as_ref().and_then(|head| head.profile.clone().and_then(source::Cell::at));
    let profile = name.and_then(|name| tables::named(&name, world, &mut records.files, found));
    let errors_before = found.errors();
    for kind in ["member", "neighbour"] {
        list.extend(roster(world, kind, head.as_ref(), records, found));
    }
    take_no_more(&mut list, records, found);
    let mut plan = Plan { profile, ..Plan::default() };
    let mut own = Findings::default();
    for record in &list {
        take(&mut plan, record, &mut own);
    }
    own.retain(|finding| !is_wake(finding, records));
    found.append(own);
    plan.duties.sort_by(|a, b| {
        (a.from.value, &a.post.value, &a.member.value).cmp(&(b.from.value, &b.post.value, &b.member.value))
    });
    if !records.is_cut {
        ask_for_tables(&plan, &list, found);
    }
    links::resolve(&mut plan, records.is_cut, found);
    if plan.forms.iter().any(|form| form.base.is_some()) {
        // Faults of the program's own forms are a test's concern, and their spans point into no file of this run.
        let of_program = builtin_forms(&mut crate::ground::Files::of_program(), &mut Findings::default());
        mean_forms::check_bases(&plan.forms, &of_program, found);
    }
    plan.is_whole = found.errors() == errors_before && !records.is_cut;
    plan
}

/// Leaves out what is more than is taken, and says so at the first record that is.
fn take_no_more(list: &mut Vec<Record>, records: &mut Records, found: &mut Findings) {
    let count = list.len();
    let Some(first) = usize::try_from(RECORDS.most).ok().and_then(|most| list.get(most)) else { return };
    let what = format!("the plan has {count} records, and {} are taken", RECORDS.most);
    let finding = Finding::new(&MORE_THAN_TAKEN, header(first), what).label("the first that is not taken");
    found.push(finding.help("leave out what is no part of the plan, or make two plans of it"));
    list.truncate(usize::try_from(RECORDS.most).unwrap_or(usize::MAX));
    records.is_cut = true;
}

/// Whether a finding only says what a syntax fault in its file swallowed.
fn is_wake(finding: &Finding, records: &Records) -> bool {
    let follows = [&MISSING_KEY, &UNKNOWN_KEY, &UNKNOWN_RECORD].contains(&finding.rule);
    follows && records.torn.contains(&finding.span.file)
}

/// The forms that come with the program, for a plan that names them and for `form` without a plan.
pub fn builtin_forms(files: &mut crate::ground::Files, found: &mut Findings) -> Register<Form> {
    let texts = [
        ("built-in/message.toml", include_str!("../tables/forms/message.toml")),
        ("built-in/log.toml", include_str!("../tables/forms/log.toml")),
    ];
    let mut plan = Plan::default();
    for (name, text) in texts {
        let id = files.add(name, text);
        let root = source::parse(id, text, found);
        for (kind, node) in root.entries().unwrap_or_default() {
            for node in each(node) {
                take(&mut plan, &Record { kind: kind.clone(), node: node.clone() }, found);
            }
        }
    }
    plan.forms
}

fn each(node: &Node) -> Vec<&Node> {
    match &node.value {
        Value::List(items) => items.iter().collect(),
        _ => vec![node],
    }
}

/// JSON Schema of the plan format, from the types that read it.
#[must_use]
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(WrittenPlan).into()
}

/// `[plan]` as written. Its faults are reported when it is taken; here only what must be known before is wanted.
fn head_of(list: &[Record]) -> Option<WrittenHead> {
    let head = list.iter().find(|record| record.kind.text == "plan")?;
    Some(source::record::<WrittenHead>(&head.node, &mut Findings::default())?.written)
}

/// The rows of a file that `[plan]` names: its members, or its neighbours.
fn roster(
    world: &dyn World,
    kind: &'static str,
    head: Option<&WrittenHead>,
    records: &mut Records,
    found: &mut Findings,
) -> Vec<Record> {
    let Some(head) = head else { return Vec::new() };
    let asked = if kind == "member" { &head.roster } else { &head.neighbours };
    let Some(roster) = asked.clone().and_then(|cell| cell.value) else { return Vec::new() };
    let Some(file) = roster.file.and_then(source::Cell::at) else { return Vec::new() };
    let columns: Vec<(Key, At<String>)> = roster
        .columns
        .and_then(|cell| cell.value)
        .unwrap_or_default()
        .into_iter()
        .filter_map(|(key, heading)| Some((Key { text: key, span: heading.span }, heading.at()?)))
        .collect();
    let wanted = source::Wanted { kind, file: &file, columns: &columns };
    source::read_roster(world, &wanted, &mut records.files, found)
}

fn take(plan: &mut Plan, record: &Record, found: &mut Findings) {
    let named = plan.profile.clone();
    let profile = named.as_deref();
    match record.kind.text.as_str() {
        "plan" => once(&mut plan.head, record, "plan", found, mean_people::head),
        "edition" => once(&mut plan.edition, record, "edition", found, mean_people::edition),
        "incident" => once(&mut plan.incident, record, "incident", found, mean_people::incident),
        "repeater" => into(&mut plan.repeaters, (record, profile), found, mean_radio::repeater),
        "channel" => channel(plan, (record, profile), found),
        "pool" => into(&mut plan.pools, (record, profile), found, mean_radio::pool),
        "gateway" => into(&mut plan.gateways, (record, profile), found, mean_radio::gateway),
        "link" => into(&mut plan.links, (record, profile), found, mean_radio::link),
        "place" => into(&mut plan.places, (record, profile), found, mean_people::place),
        "member" => into(&mut plan.members, (record, profile), found, mean_people::member),
        "agreement" => into(&mut plan.agreements, (record, profile), found, mean_people::agreement),
        "neighbour" => plan.neighbours.extend(understood(record, ("neighbour", profile), found, mean_radio::neighbour)),
        "radio" => into(&mut plan.radios, (record, profile), found, mean_radio::radio),
        "net" => into(&mut plan.nets, (record, profile), found, mean_people::net),
        "post" => into(&mut plan.posts, (record, profile), found, mean_people::post),
        "duty" => plan.duties.extend(understood(record, ("duty", profile), found, mean_people::duty)),
        "form" => into(&mut plan.forms, (record, profile), found, mean_forms::form),
        "document" => into(&mut plan.documents, (record, profile), found, mean_people::document),
        "accept" => plan.accepts.extend(understood(record, ("accept", profile), found, mean_people::accept)),
        _ => unknown(record, found),
    }
}

/// A channel; one that wants a frequency stands among the wishes, and its id is known.
fn channel(plan: &mut Plan, (record, profile): (&Record, Option<&Profile>), found: &mut Findings) {
    let mut wish = None;
    into(&mut plan.channels, (record, profile), found, |written, need| {
        match mean_radio::channel_or_wish(written, need)? {
            Ok(channel) => Some(channel),
            Err(wanted) => {
                wish = Some(*wanted);
                None
            }
        }
    });
    plan.wishes.extend(wish);
}

fn unknown(record: &Record, found: &mut Findings) {
    let kind = &record.kind.text;
    let finding =
        Finding::new(&UNKNOWN_RECORD, record.kind.span, format!("unknown record `{kind}`")).label("no kind of record");
    found.push(match source::meant("record", kind, RECORD_KINDS) {
        Some((name, true)) => finding.help(format!("write `{name}`")).fix(record.kind.span, name),
        Some((name, false)) => finding.help(format!("did you mean `{name}`?")).fix(record.kind.span, name),
        None => finding.note(format!("known records: {}", RECORD_KINDS.join(", "))),
    });
}

/// Understands a record; none when anything in it was refused or is missing.
fn understood<W: DeserializeOwned, T>(
    record: &Record,
    (kind, profile): (&'static str, Option<&Profile>),
    found: &mut Findings,
    mean: impl FnOnce(W, &mut Need<'_>) -> Option<T>,
) -> Option<T> {
    let read = source::record::<W>(&record.node, found)?;
    let errors_before = found.errors();
    let mut need = Need { kind, span: header(record), profile, found: &mut *found };
    let meant = mean(read.written, &mut need);
    meant.filter(|_| read.is_whole && found.errors() == errors_before)
}

/// Where a record begins: its header, or its key where the table has none.
fn header(record: &Record) -> Span {
    if record.node.span.end > record.node.span.start { record.node.span } else { record.kind.span }
}

fn into<W: DeserializeOwned, T: Named>(
    register: &mut Register<T>,
    (record, profile): (&Record, Option<&Profile>),
    found: &mut Findings,
    mean: impl FnOnce(W, &mut Need<'_>) -> Option<T>,
) {
    let id = record.node.get("id").and_then(|node| match &node.value {
        Value::Text(text) | Value::Field(text) => Id::parse(text).ok(),
        _ => None,
    });
    let Some(meant) = understood(record, (T::KIND, profile), found, mean) else {
        if let Some(id) = id {
            register.refuse(id);
        }
        return;
    };
    let Err(second) = register.add(meant) else { return };
    let finding =
        Finding::new(&DUPLICATE_ID, second.id().span, format!("two records are {}/{}", T::KIND, second.id().value));
    let first = register.get(second.id()).map_or(Span::NOWHERE, |first| first.id().span);
    let subject = Subject::new(T::KIND, second.id());
    found.push(
        finding
            .label("second record of this id")
            .and(first, "first record of this id")
            .on(subject)
            .help("give one of them another id"),
    );
}

fn once<W: DeserializeOwned, T>(
    place: &mut Option<T>,
    record: &Record,
    kind: &'static str,
    found: &mut Findings,
    mean: fn(W, &mut Need<'_>) -> Option<T>,
) {
    if place.is_some() {
        let finding = Finding::new(&REPEATED_TABLE, record.kind.span, format!("a second [{kind}] table"));
        found.push(finding.label("only one may stand in a plan").help("remove one of them"));
        return;
    }
    *place = understood(record, (kind, None), found, mean);
}

fn ask_for_tables(plan: &Plan, list: &[Record], found: &mut Findings) {
    let is_written = |kind: &str| list.iter().any(|record| record.kind.text == kind);
    for (kind, is_there) in [("plan", plan.head.is_some()), ("edition", plan.edition.is_some())] {
        if is_there || is_written(kind) {
            continue;
        }
        let start = list.first().map_or(Span::new(crate::ground::FileId(0), 0, 0), |record| record.kind.span);
        let finding = Finding::new(&NO_PLAN_TABLE, start, format!("the plan has no [{kind}] table"));
        found.push(
            finding
                .label("somewhere before this")
                .help(format!("add [{kind}]; `fieldsheaf new FOLDER` writes an example")),
        );
    }
}
