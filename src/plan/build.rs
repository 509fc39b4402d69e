//! All records of a plan, understood one by one; then their links.

use super::defaults::{DEFAULTS, spread_defaults};
use super::gather::{Gather, header, plural_of};
use super::records::{self, Contact, DocumentOrder, Draft, Form, Plan, RECORD_KINDS, Repeater, Sources};
use super::register::Register;
use super::rules::{DANGLING_ID, DUPLICATE_ID, NO_PLAN_TABLE};
use super::terms::Each;
use crate::ground::caps::RECORDS;
use crate::ground::{At, DialledNumbers, Failure, FileId, Finding, Findings, Id, Rule, Span, Subject, World, nearest};
use crate::source::{
    self, Key, KeySchemas, MISSING_KEY, MORE_THAN_TAKEN, Mention, Node, Reading, RecordTable, Records, Schemas,
    UNKNOWN_KEY, UNKNOWN_RECORD, Value, Written, WrittenRecord,
};
use crate::tables::{self, Profile, forms};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Understands all records. Adds the roster's files to `records`.
pub fn build(world: &dyn World, records: &mut Records, found: &mut Findings) -> Plan {
    build_told(world, records, found, |_| ()).0
}

/// The same, and what `told` makes of the records as they were written, those of tables among them.
pub fn build_told<T>(
    world: &dyn World,
    records: &mut Records,
    found: &mut Findings,
    told: impl FnOnce(&[WrittenRecord]) -> T,
) -> (Plan, T) {
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
    let profile = profile.map(|profile| profile.in_country(country));
    let errors_before = found.errors();
    let mut refused = BTreeSet::new();
    spread_defaults(&mut list, found);
    let mut tables = tables_of(&mut list, found);
    tables.extend(sources.roster.map(|table| ("member", Some(table))));
    tables.extend(sources.neighbours.map(|table| ("neighbour", Some(table))));
    for (kind, table) in tables {
        let errors = found.errors();
        let rows = table.map(|table| source::read_table(world, kind, &table, &mut records.files, found));
        refused.extend((found.errors() > errors || rows.is_none()).then(|| kind.to_owned()));
        list.extend(rows.into_iter().flatten());
    }
    take_no_more(&mut list, records, found);
    let usual = || tables::Tables::built_in().profile(tables::USUAL_PROFILE);
    if let Some(profile) = profile.as_ref().or_else(usual) {
        records::fill_standards(&mut list, profile);
    }
    list.iter_mut().for_each(name);
    records::number_rows(&mut list, &records.files);
    let told = told(&list);
    let mut plan = Plan { profile, refused, is_cut: records.is_cut, ..Plan::default() };
    let missing = missing_tables(&list);
    let mut own = Findings::default();
    gather(&mut plan, list, records.is_cut, &mut own);
    withhold_private_numbers(&mut plan);
    let has_profile = plan.profile.is_some();
    own.retain(|finding| !is_wake(finding, records) && (has_profile || !OF_PROFILE.contains(&finding.rule)));
    found.append(own);
    plan.duties.to_change().sort_by(|a, b| {
        (a.from.value, &a.post.value, &a.member.value).cmp(&(b.from.value, &b.post.value, &b.member.value))
    });
    if !records.is_cut {
        missing.into_iter().for_each(|finding| found.push(finding));
    }
    if plan.forms.iter().any(|form| form.base.is_some()) {
        // Faults of the program's own forms are a test's concern, and their spans point into no file of this run.
        let of_program = builtin_forms(&mut crate::ground::Files::of_program(), &mut Findings::default());
        records::take_bases(&mut plan.forms, &of_program, found);
    }
    plan.is_whole = found.errors() == errors_before && !records.is_cut;
    (plan, told)
}

/// What is found of names that only a profile has.
const OF_PROFILE: [&Rule; 2] = [&tables::SERVICE_UNKNOWN, &tables::STANDARD_UNKNOWN];

/// The number of a function at a place that is a member's own is printed on no sheet: the member's row hides it from whom it likes.
fn withhold_private_numbers(plan: &mut Plan) {
    let phones = plan.members.iter().flat_map(|member| &member.phones);
    let own = DialledNumbers::of(phones.map(|phone| &phone.number.value));
    let is_own = |contact: &Contact| own.has(&contact.phone.value);
    plan.places.change(
        |place| place.contacts.iter().any(is_own),
        |place| {
            let private = place.contacts.iter_mut().filter(|contact| is_own(contact));
            private.for_each(|contact| contact.phone.value.withhold());
        },
    );
}

/// Gives a record without an id one that is made of what it is called.
fn name(record: &mut WrittenRecord) {
    let from = records::id_from(&record.kind.text);
    let Node { value: Value::Table(entries), span } = &mut record.node else { return };
    if entries.iter().any(|(key, _)| key.text == "id") {
        return;
    }
    let named = from.iter().find_map(|key| {
        let (_, node) = entries.iter().find(|(own, _)| own.text == *key)?;
        Some((Id::of_name(node.text()?)?, node.span))
    });
    let key = Key { text: "id".to_owned(), span: *span };
    entries.extend(named.map(|(id, span)| (key, Node { value: Value::Text(id.to_string()), span })));
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
        list.extend(records_of(source::parse(id, text, found)));
    }
    whole_forms(list, found)
}

/// The form of this id that comes with the program, read without the others, of which it may be made: its file is called by its id.
#[must_use]
pub fn builtin_form(id: &str) -> Option<Form> {
    let mut unheard = Findings::default();
    let (mut list, mut next) = (Vec::new(), Some(id.to_owned()));
    while let Some((number, (_, text))) =
        next.take().and_then(|id| (0..).zip(forms()).find(|(_, (name, _))| *name == id))
    {
        let own: Vec<WrittenRecord> =
            records_of(source::parse(FileId::of_program(number), text, &mut unheard)).collect();
        next = own.iter().find_map(|record| Some(record.node.get("base")?.text()?.to_owned()));
        // In a circle each would be read again and again.
        next = next.filter(|_| list.len() < forms().count());
        list.extend(own);
    }
    whole_forms(list, &mut unheard).named(&Id::parse(id).ok()?).cloned()
}

fn records_of(root: Node) -> impl Iterator<Item = WrittenRecord> {
    let Value::Table(entries) = root.value else { return Vec::new().into_iter() };
    let of_kind = |(kind, node): (Key, Node)| match node.value {
        Value::List(items) => items.into_iter().map(|node| WrittenRecord::new(kind.clone(), node)).collect(),
        _ => vec![WrittenRecord::new(kind, node)],
    };
    entries.into_iter().flat_map(of_kind).collect::<Vec<_>>().into_iter()
}

fn whole_forms(list: Vec<WrittenRecord>, found: &mut Findings) -> Register<Form> {
    let mut plan = Plan::default();
    gather(&mut plan, list, true, found);
    records::take_bases(&mut plan.forms, &Register::default(), found);
    plan.forms
}

/// Orders each document for whatever bears an id: a place, a member or a message.
///
/// # Errors
/// When nobody does.
pub fn order_for(plan: &mut Plan, holder: &str) -> Result<(), Failure> {
    let id = Id::parse(holder).ok();
    let each = match &id {
        Some(id) if plan.places.named(id).is_some() => Some(Each::Place),
        Some(id) if plan.members.named(id).is_some() => Some(Each::Member),
        Some(id) if plan.messages.named(id).is_some() => Some(Each::Message),
        _ => None,
    };
    let each = each.ok_or_else(|| {
        let known = plan.places.ids().chain(plan.members.ids()).chain(plan.messages.ids()).map(Id::as_str);
        let near = nearest(holder, known).map_or_else(String::new, |near| format!("; did you mean {near}?"));
        Failure::new(holder, format!("no place, member or message of the plan has this id{near}"))
    })?;
    let orders: Vec<_> = plan.documents.iter().cloned().collect();
    for order in orders {
        let each = order.each.with(each);
        plan.documents.put(DocumentOrder { each, ..order });
    }
    Ok(())
}

/// The forms of a file without a plan; its other records are not looked at.
pub fn forms_of(records: &mut Records, found: &mut Findings) -> Register<Form> {
    let mut list: Vec<WrittenRecord> =
        records.list.iter().filter(|record| record.kind.text == "form").cloned().collect();
    list.iter_mut().for_each(name);
    take_no_more(&mut list, records, found);
    let mut plan = Plan::default();
    gather(&mut plan, list, records.is_cut, found);
    if plan.forms.iter().any(|form| form.base.is_some()) {
        let of_program = builtin_forms(&mut crate::ground::Files::of_program(), &mut Findings::default());
        records::take_bases(&mut plan.forms, &of_program, found);
    }
    plan.forms
}

/// The messages of a file without a plan.
pub fn messages_of(records: &mut Records, profile: Arc<Profile>, found: &mut Findings) -> Plan {
    let mut list = std::mem::take(&mut records.list);
    spread_defaults(&mut list, found);
    take_no_more(&mut list, records, found);
    let mut plan = Plan { profile: Some(profile), ..Plan::default() };
    gather(&mut plan, list, records.is_cut, found);
    // What is not there is no fault of a plan that was never written.
    plan.is_cut = true;
    plan
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
    keys.key(
        DEFAULTS,
        &["What counts in the records of a kind that this file writes and that do not say it themselves, by kind, as `{ channel = { verified = { on = 2026-10-01, by = \"qra\" } } }`; \
           nothing when left out."],
        serde_json::json!({ "type": "object", "additionalProperties": { "type": "object" } }),
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

/// Takes the tables out of the list, each with the kind of its records: `[channels]` is one of channels. None for one that cannot be
/// read, which is reported.
fn tables_of(list: &mut Vec<WrittenRecord>, found: &mut Findings) -> Vec<(&'static str, Option<RecordTable>)> {
    let kinds: Vec<(&str, String)> = records::kinds_of_tables().map(|kind| (kind, plural_of(kind))).collect();
    let mut tables = Vec::new();
    list.retain(|record| {
        let own = |name: &str| kinds.iter().find(|(_, plural)| plural == name).map(|(kind, _)| *kind);
        let respelled = source::respelled(&record.kind.text, &["neighbours"]);
        let Some(kind) = own(&record.kind.text).or_else(|| own(respelled?)) else { return true };
        if record.node.get("file").is_none() && record.node.get("columns").is_none() {
            found.push(no_table(record, kind));
            tables.push((kind, None));
            return false;
        }
        let span = header(record);
        tables.push((kind, Reading::alone("table", span, found, |of| source::record_of(&record.node, of))));
        false
    });
    tables
}

/// Reports records that stand under the word for a table of them.
fn no_table(record: &WrittenRecord, kind: &str) -> Finding {
    let plural = &record.kind.text;
    let what = format!("`{plural}` is for a table of records, and no `file` is named");
    let finding = Finding::new(&UNKNOWN_RECORD, record.kind.span, what).label("names no file");
    finding.help(format!("write `[[{kind}]]` for a record that stands here")).fix(record.kind.span, kind)
}

/// Understands records one by one; then builds the channels, and looks up what was mentioned unless a syntax fault may have
/// swallowed it.
fn gather(plan: &mut Plan, list: Vec<WrittenRecord>, is_cut: bool, found: &mut Findings) {
    let usual = || tables::Tables::built_in().profile(tables::USUAL_PROFILE);
    let habits = plan.profile.as_ref().or_else(usual).map(Profile::habits).unwrap_or_default();
    let mut gather = Gather { habits: &habits, found, mentions: Vec::new() };
    // What was written of a record goes when it is understood: all of it is larger than the plan.
    for record in list {
        let errors = gather.found.errors();
        if !plan.take(&record, &mut gather) {
            unknown(&record, gather.found);
        }
        plan.refused.extend((gather.found.errors() > errors).then(|| record.kind.text.clone()));
    }
    let Gather { found, mentions, .. } = gather;
    // Another channel may name the repeater that one has for its own.
    add_own_repeaters(plan, found);
    if !is_cut {
        mentions.iter().for_each(|(by, mention)| look_up(plan, by.as_ref(), mention, found));
        plan.places.iter().for_each(|place| place.look_up_antennas(found));
        plan.stations.iter().for_each(|station| station.look_up_parts(found));
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

/// Adds the repeaters that channels have for their own.
fn add_own_repeaters(plan: &mut Plan, found: &mut Findings) {
    let own: Vec<_> = plan.drafts.iter().filter_map(Draft::own_repeater).collect();
    for repeater in own {
        if let Err(repeater) = plan.repeaters.add(repeater) {
            found.push(taken(&repeater, plan));
        }
    }
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

/// Reports a channel's own repeater whose id another has.
fn taken(repeater: &Repeater, plan: &Plan) -> Finding {
    let id = &repeater.id;
    let first = plan.repeaters.named(id).map_or(Span::NOWHERE, |first| first.id.span);
    let what =
        format!("channel {} has its own repeater, and another repeater is called {}", repeater.name.value, id.value);
    Finding::new(&DUPLICATE_ID, id.span, what)
        .label("gives its id to its repeater")
        .and(first, "the other repeater")
        .on(Subject::new("channel", id))
        .help(format!("write `repeater = \"{}\"` in place of `output`, or give the channel another id", id.value))
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

/// What is found where nobody wrote a table that every plan has.
fn missing_tables(list: &[WrittenRecord]) -> Vec<Finding> {
    let is_written = |kind: &str| list.iter().any(|record| record.kind.text == kind);
    let start = list.first().map_or(Span::new(FileId(0), 0, 0), |record| record.kind.span);
    let missing = |kind: &str| {
        Finding::new(&NO_PLAN_TABLE, start, format!("the plan has no [{kind}] table"))
            .label("somewhere before this")
            .help(format!("add [{kind}]; `fieldsheaf new FOLDER` writes an example"))
    };
    ["plan", "edition"].into_iter().filter(|kind| !is_written(kind)).map(missing).collect()
}
