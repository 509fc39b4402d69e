//! From the documents that a plan orders to one task per document and holder.

use super::file_names::file_names;
use super::forms;
use super::kind::{Compose, Kind};
use super::kinds::{KINDS, kind};
use super::kits;
use super::rules::{
    DOCUMENT_EACH_NOT_POSSIBLE, DOCUMENT_TOO_OPEN, EXERCISE_MISSING, UNKNOWN_DOCUMENT_KIND, UNKNOWN_FORM, UNKNOWN_PAPER,
};
use super::task::{Beside, SharedKey, Task};
use crate::ground::caps::DOCUMENTS;
use crate::ground::{At, Audience, Finding, Findings, Id, nearest};
use crate::plan::{DocumentOrder, Each, Form, Plan, subject};
use crate::source::MORE_THAN_TAKEN;
use crate::tables::{Profile, Tables};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Every document that the plan orders, for every holder: by document id, then by holder id.
///
/// An order that cannot be carried out becomes a finding and no task.
pub fn tasks(plan: &Plan, profile: &Profile, found: &mut Findings) -> Vec<Task> {
    let (mut tasks, mut count) = (Vec::new(), 0);
    for order in plan.documents.iter() {
        count += holders(order, plan);
        if DOCUMENTS.takes(count) {
            tasks.extend(tasks_of(order, plan, profile, found).unwrap_or_default());
            continue;
        }
        let what =
            format!("with {} there are {count} {}, and {} are taken", order.id.value, DOCUMENTS.of, DOCUMENTS.most);
        let finding = Finding::new(&MORE_THAN_TAKEN, order.id.span, what).label("too much with this document");
        found.push(finding.help("leave documents out, or make two plans of it").on(subject(order)));
        break;
    }
    for kit in plan.kits.iter() {
        count += u64::try_from(kits::sets(kit, plan)).unwrap_or(u64::MAX);
        if !DOCUMENTS.takes(count) {
            let what = format!(
                "with kit {} there are {count} {}, and {} are taken",
                kit.id.value, DOCUMENTS.of, DOCUMENTS.most
            );
            let finding = Finding::new(&MORE_THAN_TAKEN, kit.id.span, what).label("too much with this kit");
            found.push(finding.help("leave documents or kits out, or make two plans of it").on(subject(kit)));
            break;
        }
        tasks.extend(kits::covers(kit, plan, profile, found));
    }
    file_names(&tasks, plan, found);
    tasks
}

/// For how many an order makes a copy.
fn holders(order: &DocumentOrder, plan: &Plan) -> u64 {
    let count = match order.each.value {
        Each::Once => 1,
        Each::Member => plan.members.ids().count(),
        Each::Place => plan.places.ids().count(),
        Each::Message => plan.messages.ids().count(),
    };
    u64::try_from(count).unwrap_or(u64::MAX)
}

fn tasks_of(order: &DocumentOrder, plan: &Plan, profile: &Profile, found: &mut Findings) -> Option<Vec<Task>> {
    let kind = kind_of(order, found)?;
    let (each, paper) = (each_of(order, kind, found), paper_of(order, profile, found));
    if let Some(together) = order.together.filter(|together| together.value && order.each.value == Each::Once) {
        let what = format!("{} is made once: there are no copies to put together", order.id.value);
        let finding = Finding::new(&DOCUMENT_EACH_NOT_POSSIBLE, together.span, what).on(subject(order));
        found.push(
            finding.label("has nothing to put together").help("add each = \"member\" or \"place\", or leave it out"),
        );
        return None;
    }
    let beside = beside(order, kind, plan, found);
    let form = match &beside {
        Some(Beside::Form { form, .. }) => forms::find(plan, form),
        _ => None,
    };
    if order.each.value == Each::Message && !has_messages(order, form, plan, found) {
        return None;
    }
    let of_form = form.and_then(|form| form.audience.as_ref()).map(|audience| &audience.value);
    let widest = of_form.filter(|widest| widest.may_read(&kind.widest)).unwrap_or(&kind.widest);
    // Messages are open to those who lead.
    let is_of_messages = order.each.value == Each::Message && !widest.may_read(&Audience::Leads);
    let widest = if is_of_messages { &Audience::Leads } else { widest };
    let is_closed = order.audience.value.may_read(widest);
    if !is_closed {
        let what =
            format!("a {} for the audience {}; it is for {widest} at the widest", kind.name, order.audience.value);
        let finding = Finding::new(&DOCUMENT_TOO_OPEN, order.audience.span, what).on(subject(order));
        let help = format!("write audience = \"{widest}\"");
        found.push(finding.label("opens it to these readers").help(help));
    }
    let layout = match &order.layout {
        Some(written) => written.with(written.value.to_string()),
        None => {
            let of_form = form.and_then(|form| form.layout.as_ref());
            At::new(of_form.map_or_else(|| kind.layout.to_owned(), |layout| layout.to_string()), order.kind.span)
        }
    };
    let task = Task {
        document: order.id.value.clone(),
        shared: SharedKey { kind, audience: order.audience.value.clone(), beside: beside? },
        holder: None,
        together: Vec::new(),
        copy: None,
        each: each?,
        layout,
        variant: order.variant.map(|variant| variant.value),
        paper: paper?,
        copies: order.copies.or(form.and_then(|form| form.copies)).map_or(1, |copies| copies.value.get()),
        serial: order.serial.map(|serial| serial.value.get()),
        sheets: form.map(|form| form.sheets.iter().map(|sheet| sheet.to_string()).collect()).unwrap_or_default(),
        number: None,
        sheet: None,
        parts: Arc::default(),
    };
    let ids: Vec<Id> = match task.each {
        Each::Once => return is_closed.then(|| vec![task]),
        Each::Member => plan.members.ids().cloned().collect(),
        Each::Place => {
            let wanted = wanted(kind, plan, profile);
            let is_wanted = |id: &&Id| wanted.as_ref().is_none_or(|(at, _)| at.contains(*id));
            plan.places.ids().filter(is_wanted).cloned().collect()
        }
        Each::Message => plan.messages.ids().cloned().collect(),
    };
    if order.together.is_some_and(|together| together.value) {
        return is_closed.then(|| vec![Task { together: (1..).zip(ids).collect(), ..task }]);
    }
    let of_holder = |(number, id)| Task { holder: Some(id), copy: Some(number), ..task.clone() };
    is_closed.then(|| (1..).zip(ids).map(of_holder).collect())
}

/// The places at which a sheet of a kind has something to say, and what is true of the others; none where it has at all.
fn wanted(kind: &Kind, plan: &Plan, profile: &Profile) -> Option<(BTreeSet<Id>, &'static str)> {
    match &kind.compose {
        Compose::Where(_, wanted) => Some(((wanted.at)(plan, profile), wanted.others)),
        _ => None,
    }
}

/// Which places have no sheet of a document that is made for each, and why: `keep-off: none for Grange (nothing of the team's sends there)`.
pub(super) fn left_out(plan: &Plan, profile: &Profile) -> Vec<String> {
    let of_places = plan.documents.iter().filter(|order| order.each.value == Each::Place);
    let said = of_places.filter_map(|order| {
        let (at, others) = wanted(kind(order.kind.as_str())?, plan, profile)?;
        let without = plan.places.iter().filter(|place| !at.contains(&place.id.value));
        let names: Vec<&str> = without.map(|place| place.tactical.as_str()).collect();
        (!names.is_empty()).then(|| format!("{}: none for {} ({others}).", order.id.value, names.join(", ")))
    });
    said.collect()
}

/// Whether each message can have a sheet of the form: the plan has messages, the form has values of one, and their own numbers are all.
fn has_messages(order: &DocumentOrder, form: Option<&Form>, plan: &Plan, found: &mut Findings) -> bool {
    let finding = |span, what: String, label| {
        Finding::new(&DOCUMENT_EACH_NOT_POSSIBLE, span, what).on(subject(order)).label(label)
    };
    let Some(form) = form else { return false };
    if !form.asks_for_message() {
        let what =
            format!("form {} has no value of a message, and {} makes one for each", form.id.value, order.id.value);
        let help =
            "take a form with values of a message, as radiogram or message, or give a field from = \"message.text\"";
        found.push(finding(order.each.span, what, "each would be alike").help(help));
        return false;
    }
    if let Some(serial) = order.serial {
        let what = format!("{} is made for each message, and messages have numbers of their own", order.id.value);
        found.push(finding(serial.span, what, "numbers what is numbered").help("leave `serial` out"));
        return false;
    }
    // One that was written and refused has its finding already.
    if plan.messages.is_empty() && plan.has_all(&["message"]) {
        let what = format!("{} is made for each message, and the plan has none", order.id.value);
        let help = "add a [[message]], or leave `each` out for a blank form";
        found.push(finding(order.each.span, what, "asks for one each").help(help));
    }
    !plan.messages.is_empty()
}

fn kind_of(order: &DocumentOrder, found: &mut Findings) -> Option<&'static Kind> {
    let known = kind(order.kind.as_str());
    if known.is_none() {
        let what = format!("\"{}\" is not a document kind", order.kind.value);
        let meant = nearest(order.kind.as_str(), KINDS.iter().map(|kind| kind.name));
        let all = KINDS.iter().map(|kind| kind.name).collect::<Vec<_>>().join(", ");
        let finding = Finding::new(&UNKNOWN_DOCUMENT_KIND, order.kind.span, what).on(subject(order));
        let finding = finding.label("is none of the kinds");
        found.push(match meant {
            Some(name) => finding.did_you_mean(name),
            None => finding.help(format!("write one of {all}")),
        });
    }
    known
}

fn each_of(order: &DocumentOrder, kind: &'static Kind, found: &mut Findings) -> Option<Each> {
    if kind.each.contains(&order.each.value) {
        return Some(order.each.value);
    }
    let what = format!("a {} cannot be made for each {}", kind.name, order.each.value);
    let can = kind.each.iter().map(|each| format!("\"{each}\"")).collect::<Vec<_>>().join(" or ");
    let finding = Finding::new(&DOCUMENT_EACH_NOT_POSSIBLE, order.each.span, what).on(subject(order));
    found.push(finding.label("asks for one each").help(format!("write each = {can}")));
    None
}

fn paper_of(order: &DocumentOrder, profile: &Profile, found: &mut Findings) -> Option<&'static str> {
    let papers = &Tables::built_in().papers;
    let Some(written) = &order.paper else {
        return Tables::built_in().papers.get(&profile.paper).map(|paper| paper.id.as_str());
    };
    let known = papers.get(written.as_str()).map(|paper| paper.id.as_str());
    if known.is_none() {
        let meant = nearest(written.as_str(), papers.sheets().map(|paper| paper.id.as_str()));
        let all = papers.sheets().map(|paper| paper.id.as_str()).collect::<Vec<_>>().join(", ");
        let what = format!("no table has a paper \"{}\"", written.value);
        let finding = Finding::new(&UNKNOWN_PAPER, written.span, what).on(subject(order)).label("is no paper");
        found.push(match meant {
            Some(name) => finding.did_you_mean(name),
            None => finding.help(format!("write one of {all}")),
        });
    }
    known
}

/// What the kind wants beside the view. None, with a finding, where the order does not name it.
fn beside(order: &DocumentOrder, kind: &Kind, plan: &Plan, found: &mut Findings) -> Option<Beside> {
    match kind.compose {
        Compose::View(_) | Compose::Where(..) => Some(Beside::Nothing),
        Compose::Exercise(_) => exercise_of(order, plan, found).map(|()| Beside::Nothing),
        Compose::Findings(_) => Some(Beside::Findings),
        Compose::Edition(_) | Compose::Set(_) => Some(Beside::Edition),
        Compose::Form(_) => {
            let form = form_of(order, plan, found)?;
            let net = order.net.as_ref().map(|net| (*net.value).clone());
            let asks = forms::find(plan, &form).is_some_and(Form::asks_for_net);
            if let Some(net) = order.net.as_ref().filter(|_| !asks) {
                let what = format!("form {form} has no value of a net, and {} names one", order.id.value);
                let finding = Finding::new(&UNKNOWN_FORM, net.span, what).on(subject(order)).label("changes nothing");
                found.push(finding.help("leave `net` out, or take a form with values of a net, as log"));
                return None;
            }
            Some(Beside::Form { form, net })
        }
    }
}

/// That there is an exercise to make papers of. None, with a finding, where there is none.
fn exercise_of(order: &DocumentOrder, plan: &Plan, found: &mut Findings) -> Option<()> {
    // One that was written and refused has its finding already.
    if plan.exercise.is_none() && plan.has_all(&["exercise"]) {
        let what = format!("{} is a paper of an exercise, and the plan has none", order.id.value);
        let finding =
            Finding::new(&EXERCISE_MISSING, order.kind.span, what).on(subject(order)).label("is for an exercise");
        found.push(finding.help("add [[exercise]] with name, from, to and real-emergency"));
    }
    plan.exercise.as_ref().map(|_| ())
}

/// The form that an order names.
fn form_of(order: &DocumentOrder, plan: &Plan, found: &mut Findings) -> Option<Id> {
    let known = || {
        let mut known: Vec<&str> = plan.forms.ids().map(Id::as_str).collect();
        known.extend(forms::ids());
        known
    };
    let (span, what) = match &order.form {
        Some(id) if forms::find(plan, id).is_some() => return Some(id.value.clone()),
        // A form that was written and refused has its finding already.
        Some(id) if plan.forms.knows(id) => return None,
        Some(id) => (id.span, format!("no form is called \"{}\"", id.value)),
        None => (order.span, "a document of the kind form names no form".to_owned()),
    };
    let meant = order.form.as_ref().and_then(|id| nearest(id.as_str(), known()));
    let all = known().join(", ");
    let finding = Finding::new(&UNKNOWN_FORM, span, what).on(subject(order)).label("names no form");
    found.push(match meant {
        Some(name) => finding.did_you_mean(name),
        None => finding.help(format!("write form = one of {all}")),
    });
    None
}
