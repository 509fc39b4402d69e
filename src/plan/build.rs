//! All records of a plan, understood one by one; then their links.

use super::gather::{Gather, header};
use super::records::{self, Form, Plan, RECORD_KINDS, Roster, Sources};
use super::register::Register;
use super::rules::{DANGLING_ID, NO_PLAN_TABLE};
use crate::ground::caps::RECORDS;
use crate::ground::{At, Finding, Findings, Id, Span, Subject, World, nearest};
use crate::source::{
    self, Key, KeySchemas, MISSING_KEY, MORE_THAN_TAKEN, Mention, Node, Reading, Records, Schemas, UNKNOWN_KEY,
    UNKNOWN_RECORD, Value, Written, WrittenRecord,
};
use crate::tables::{self, Profile, forms};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Understands all records. Adds the roster's files to `records`.
pub fn build(world: &dyn World, records: &mut Records, found: &mut Findings) -> Plan {
    let mut list = std::mem::take(&mut records.list);
    for record in &mut list {
        if let Some(ours) = source::respelled(&record.kind.text, RECORD_KINDS) {
            ours.clone_into(&mut record.kind.text);
        }
    }
    let sources = sources_of(&list);
    // Before all else: what is left out, and which words a class has, are as the profile says.
    let profile = sources.profile.and_then(|name| tables::named(&name, world, &mut records.files, found));
    let country = sources.region.as_ref().and_then(|region| region.as_str().split('-').next());
    let profile = profile.map(|profile| Arc::new(profile.in_country(country)));
    let errors_before = found.errors();
    let mut refused = BTreeSet::new();
    for (kind, roster) in [("member", &sources.roster), ("neighbour", &sources.neighbours)] {
        let errors = found.errors();
        list.extend(rows_of(world, kind, roster.as_ref(), records, found));
        refused.extend((found.errors() > errors).then(|| kind.to_owned()));
    }
    take_no_more(&mut list, records, found);
    let mut plan = Plan { profile, refused, is_cut: records.is_cut, ..Plan::default() };
    let mut own = Findings::default();
    gather(&mut plan, &list, records.is_cut, &mut own);
    let has_profile = plan.profile.is_some();
    own.retain(|finding| !is_wake(finding, records) && (has_profile || *finding.rule != tables::SERVICE_UNKNOWN));
    found.append(own);
    plan.duties.sort_by(|a, b| {
        (a.from.value, &a.post.value, &a.member.value).cmp(&(b.from.value, &b.post.value, &b.member.value))
    });
    if !records.is_cut {
        ask_for_tables(&plan, &list, found);
    }
    if plan.forms.iter().any(|form| form.base.is_some()) {
        // Faults of the program's own forms are a test's concern, and their spans point into no file of this run.
        let of_program = builtin_forms(&mut crate::ground::Files::of_program(), &mut Findings::default());
        records::check_bases(&plan.forms, &of_program, found);
    }
    plan.is_whole = found.errors() == errors_before && !records.is_cut;
    plan
}

/// Leaves out what is more than is taken, and says so at the first record that is.
fn take_no_more(list: &mut Vec<WrittenRecord>, records: &mut Records, found: &mut Findings) {
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
    let mut list = Vec::new();
    for (name, text) in forms() {
        let id = files.add(format!("built-in/{name}.toml"), text);
        let root = source::parse(id, text, found);
        for (kind, node) in root.entries().unwrap_or_default() {
            for node in each(node) {
                list.push(WrittenRecord { kind: kind.clone(), node: node.clone() });
            }
        }
    }
    let mut plan = Plan::default();
    gather(&mut plan, &list, true, found);
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
    let (mut keys, mut schemas) = (KeySchemas::default(), Schemas::default());
    records::describe(&mut keys, &mut schemas);
    let include = <Vec<At<String>> as Written>::schema(&mut schemas);
    keys.key(
        "include",
        &["Further files of the plan's folder, patterns allowed, as `forms/*.toml`; none when left out."],
        include,
    );
    keys.into_document("plan", &["What may stand at the top of a file of a plan."], schemas)
}

/// `[plan]` as written. Its faults are reported when it is taken; here only what must be known before is wanted.
fn sources_of(list: &[WrittenRecord]) -> Sources {
    let head = list.iter().find(|record| record.kind.text == "plan");
    let read = |head: &WrittenRecord| {
        let unheard = &mut Findings::default();
        Reading::alone("plan", head.node.span, unheard, |of| source::record_of(&head.node, of))
    };
    head.and_then(read).unwrap_or_default()
}

/// The rows of a file that `[plan]` names: its members, or its neighbours.
fn rows_of(
    world: &dyn World,
    kind: &'static str,
    roster: Option<&Roster>,
    records: &mut Records,
    found: &mut Findings,
) -> Vec<WrittenRecord> {
    let Some((file, roster)) = roster.and_then(|roster| Some((roster.file.as_ref()?, roster))) else {
        return Vec::new();
    };
    let columns = roster.columns.as_ref().map(|columns| &columns.value).into_iter().flatten();
    let columns: Vec<(Key, At<String>)> =
        columns.map(|(key, heading)| (Key { text: key.clone(), span: heading.span }, heading.clone())).collect();
    let wanted = source::RosterFile { kind, file, columns: &columns };
    source::read_roster(world, &wanted, &mut records.files, found)
}

/// Understands records one by one; then builds the channels, and looks up what was mentioned unless a syntax fault may have
/// swallowed it.
fn gather(plan: &mut Plan, list: &[WrittenRecord], is_cut: bool, found: &mut Findings) {
    let usual = || tables::Tables::built_in().profile(tables::USUAL_PROFILE);
    let habits = plan.profile.as_ref().or_else(usual).map(Profile::habits).unwrap_or_default();
    let mut gather = Gather { habits: &habits, found, mentions: Vec::new() };
    for record in list {
        let errors = gather.found.errors();
        if !plan.take(record, &mut gather) {
            unknown(record, gather.found);
        }
        plan.refused.extend((gather.found.errors() > errors).then(|| record.kind.text.clone()));
    }
    let Gather { found, mentions, .. } = gather;
    if !is_cut {
        mentions.iter().for_each(|(by, mention)| look_up(plan, by.as_ref(), mention, found));
        plan.places.iter().for_each(|place| place.look_up_antennas(found));
    }
    build_channels(plan);
}

/// Reports an id that nobody has.
fn look_up(plan: &Plan, by: Option<&Subject>, mention: &Mention, found: &mut Findings) {
    let (kind, id) = (mention.kind, &mention.id);
    let Some(ids) = plan.others(kind, id) else { return };
    let finding = Finding::new(&DANGLING_ID, id.span, format!("no {kind} has the id `{}`", id.value))
        .label(format!("no such {kind}"))
        .on(by.cloned().unwrap_or_else(|| Subject::new(kind, id)));
    found.push(match nearest(id.as_str(), ids.into_iter().map(Id::as_str)) {
        Some(name) => finding.did_you_mean(name),
        None => finding,
    });
}

/// Builds the channels from their drafts, once; one whose repeater is missing or was refused is refused with it.
fn build_channels(plan: &mut Plan) {
    let (drafts, refused) = std::mem::take(&mut plan.drafts).into_parts();
    refused.into_iter().for_each(|id| plan.channels.refuse(id));
    for draft in drafts {
        let id = draft.id.value.clone();
        if let Some(wish) = draft.wish() {
            plan.wishes.push(wish);
            plan.channels.refuse(id);
        } else if let Some(channel) = draft.channel(plan) {
            plan.channels.put(channel);
        } else {
            plan.channels.refuse(id);
        }
    }
    plan.wishes.sort_by_key(|wish| wish.word);
}

fn unknown(record: &WrittenRecord, found: &mut Findings) {
    let kind = &record.kind.text;
    let finding =
        Finding::new(&UNKNOWN_RECORD, record.kind.span, format!("unknown record `{kind}`")).label("no kind of record");
    found.push(match source::meant("record", kind, RECORD_KINDS) {
        Some((name, true)) => finding.help(format!("write `{name}`")).fix(record.kind.span, name),
        Some((name, false)) => finding.help(format!("did you mean `{name}`?")).fix(record.kind.span, name),
        None => finding.note(format!("known records: {}", RECORD_KINDS.join(", "))),
    });
}

fn ask_for_tables(plan: &Plan, list: &[WrittenRecord], found: &mut Findings) {
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
