//! A task and the view of its readers -> a document.

use super::block::{Block, Document, Foot, Section, Text};
use super::foot::{exercise_mark, foot, foot_of_copy, foot_of_form, foot_of_message, message_mark, once_of};
use super::form_values::FilledFrom;
use super::forms;
use super::forms::CopyMark;
use super::kind::{Compose, Frozen};
use super::task::{Beside, SharedKey, Task};
use crate::audience::{Holder, View, view};
use crate::checks::CheckedPlan;
use crate::ground::{Audience, Span};
use crate::plan::{Each, Form, Message};

/// Composes one task. `frozen` is needed by kinds that print the findings; the others ignore it.
///
/// The read-back code is left empty: the edition floor fills it in.
#[must_use]
pub fn document(checked: &CheckedPlan, task: &Task, frozen: Option<&Frozen<'_>>) -> Document {
    let view = view(checked, task.shared.audience.clone());
    let view = match (&task.holder, task.each) {
        (Some(id), Each::Member) => view.for_member(id),
        (Some(id), Each::Place) => view.for_place(id),
        (Some(id), Each::Message) => view.for_message(id),
        _ => view,
    };
    compose(&view, task, task.stem(), frozen)
}

/// The same document without a holder: what the read-back code of all its copies is made from.
#[must_use]
pub fn shared_document(checked: &CheckedPlan, task: &Task, frozen: Option<&Frozen<'_>>) -> Document {
    compose(&view(checked, task.shared.audience.clone()), task, task.document.to_string(), frozen)
}

/// A form for each message of a file that is no plan's, in the order of the file, filled in with it.
#[must_use]
pub fn message_forms(checked: &CheckedPlan, form: (&Form, bool), mark: CopyMark<'_>) -> Vec<Document> {
    let mut messages: Vec<&Message> = checked.plan().messages.iter().collect();
    messages.sort_by_key(|message| message.id.span);
    let document = |message: &Message| {
        let view = view(checked, Audience::Leads).for_message(&message.id);
        forms::of_form((checked.profile(), Some(&view)), form, mark, foot_of_message(form.0, &view))
    };
    messages.into_iter().filter_map(document).collect()
}

fn compose(view: &View<'_>, task: &Task, stem: String, frozen: Option<&Frozen<'_>>) -> Document {
    let SharedKey { kind, beside, .. } = &task.shared;
    let form = match beside {
        Beside::Form { form, .. } => forms::find(view.plan(), form),
        Beside::Nothing | Beside::Findings | Beside::Edition | Beside::Kit(_) => None,
    };
    let net = match beside {
        Beside::Form { net, .. } => net.as_ref(),
        Beside::Nothing | Beside::Findings | Beside::Edition | Beside::Kit(_) => None,
    };
    let serial = task.number.map(|number| numbered(view, number));
    let title = form.map_or(kind.title, |form| form.title.as_str());
    let whole =
        view.plan().head.as_ref().map_or_else(|| title.to_owned(), |head| format!("{title}, {}", head.title.value));
    let sections = match kind.compose {
        Compose::View(compose) | Compose::Where(compose, _) => compose(view),
        Compose::Form(compose) => {
            let given = FilledFrom { profile: view.profile(), view: Some(view), net, serial: serial.as_deref() };
            form.map(|form| compose(view, form, given)).unwrap_or_default()
        }
        Compose::Exercise(compose) => {
            view.plan().exercise.as_ref().map(|exercise| compose(view, exercise)).unwrap_or_default()
        }
        Compose::Findings(compose) => frozen.map(|frozen| compose(view, frozen)).unwrap_or_default(),
        Compose::Edition(compose) => frozen.map(|frozen| compose(view, frozen.since)).unwrap_or_default(),
        Compose::Set(compose) => {
            let kit = match beside {
                Beside::Kit(kit) => Some(kit),
                _ => None,
            };
            frozen.map(|frozen| compose(view, frozen.since, kit)).unwrap_or_default()
        }
    };
    // A sheet of such a kind is marked, or is none: its foot is made of the exercise that its sections are made of.
    let exercise = match kind.compose {
        Compose::Exercise(_) => view.plan().exercise.as_ref().map(exercise_mark),
        _ => message_mark(view),
    };
    let copy = view.holder().and(task.copy);
    let sections = match copy {
        Some(number) => numbered_front(sections, number),
        None => sections,
    };
    debug_assert!(sections.iter().all(|section| kind.sections.contains(&section.key)), "a section without a name");
    let foot = form.filter(|_| view.plan().head.is_none()).map_or_else(|| foot(view), foot_of_form);
    Document {
        kind: kind.name,
        stem,
        title: whole,
        language: view.profile().language.clone(),
        layout: task.layout.clone(),
        variant: task.variant,
        paper: task.paper,
        copies: task.copies,
        foot: Foot {
            copy,
            exercise: exercise.or(foot.exercise.clone()),
            ..foot_of_copy(foot, serial.as_deref(), task.sheet.as_deref())
        },
        // A form that goes from hand to hand has no rule for who sends, and is not measured.
        once: if form.is_some() { Vec::new() } else { once_of(view) },
        sections,
    }
}

/// A front has the number of its holder's copy behind the holder: panels of a card have no room for it in their feet.
fn numbered_front(mut sections: Vec<Section>, number: usize) -> Vec<Section> {
    for block in sections.iter_mut().flat_map(|section| &mut section.blocks) {
        if let Block::Front(front) = block {
            let words = Text::of_edition(format!(", copy {number}"), Span::NOWHERE);
            front.holder = std::mem::take(&mut front.holder).then_text(words);
        }
    }
    sections
}

/// A number behind the code of the site, or the call sign or id of the member, whose copies they are, so that no two of a batch are alike.
fn numbered(view: &View<'_>, number: u32) -> String {
    let before = match view.holder() {
        Some(Holder::Place(place)) => format!("{} ", place.code.value),
        Some(Holder::Member(member)) => {
            let call = member.call.as_ref().map(|call| call.to_string());
            format!("{} ", call.unwrap_or_else(|| member.id.value.to_string()))
        }
        Some(Holder::Message(_)) | None => String::new(),
    };
    format!("{before}{number:04}")
}
