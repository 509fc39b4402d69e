//! The forms that come with the program, and a blank one without a plan.

use super::block::{Document, Foot};
use super::foot::{foot_of_copy, foot_of_form, once};
use super::form_values::FilledFrom;
use super::kinds::{FORM, TextOwner, form_section};
use crate::audience::View;
use crate::ground::{At, Id, Span};
use crate::plan::{Form, Plan, builtin_form};
use crate::source::WrittenRecord;
use crate::tables;
use crate::tables::{Profile, Tables};
use std::sync::{LazyLock, OnceLock};

/// A form by its id; none where it has a fault.
type ReadOnce = (&'static str, OnceLock<Option<Form>>);

/// The forms that come with the program by their ids, each read when somebody first asks for it: most plans need three of them. A
/// test of the plan floor holds them to be without fault.
static BUILT_IN: LazyLock<Vec<ReadOnce>> =
    LazyLock::new(|| tables::forms().map(|(id, _)| (id, OnceLock::new())).collect());

/// The ids of the forms that come with the program.
pub(super) fn ids<'a>() -> impl Iterator<Item = &'a str> {
    BUILT_IN.iter().map(|(id, _)| *id)
}

/// The form of this id: the plan's own first, then the program's.
pub(super) fn find<'a>(plan: &'a Plan, id: &Id) -> Option<&'a Form> {
    plan.forms.named(id).or_else(|| built_in_form(id.as_str()))
}

/// Begins to read the forms that a plan's documents name, on another thread: nobody wants them before the plan is understood.
pub fn begin_forms(records: &[WrittenRecord]) {
    let orders = records.iter().filter(|record| record.kind.text == "document");
    let named: Vec<&str> = orders.filter_map(|order| order.node.get("form")?.text()).collect();
    let named: Vec<&str> = ids().filter(|id| named.contains(id)).collect();
    rayon::spawn(move || named.into_iter().for_each(|id| _ = built_in_form(id)));
}

/// Names and titles of the forms that come with the program.
#[must_use]
pub fn form_names() -> Vec<(String, String)> {
    ids().filter_map(built_in_form).map(|form| (form.id.to_string(), form.title.to_string())).collect()
}

/// The usual layout of a form.
#[must_use]
pub fn form_layout(form: &Form) -> String {
    form.layout.as_ref().map_or_else(|| FORM.layout.to_owned(), |layout| layout.to_string())
}

/// A form that comes with the program.
#[must_use]
pub fn built_in_form(name: &str) -> Option<&'static Form> {
    let (id, form) = BUILT_IN.iter().find(|(id, _)| *id == name)?;
    form.get_or_init(|| builtin_form(id)).as_ref()
}

/// Which of many blank copies one is.
#[derive(Clone, Copy, Debug, Default)]
pub struct CopyMark<'a> {
    /// Its number.
    pub serial: Option<&'a str>,
    /// What is said of its sheet, of a set.
    pub sheet: Option<&'a str>,
}

/// A form without a plan: its foot shows the form's own edition. `is_own` of a form that somebody's file has, whose places count.
#[must_use]
pub fn blank_form(profile: &Profile, (form, is_own): (&Form, bool), mark: CopyMark<'_>) -> Option<Document> {
    let foot = foot_of_form(form);
    of_form((profile, None), (form, is_own), mark, foot)
}

/// A form without a plan; with a view where one of messages is filled in.
pub(super) fn of_form(
    (profile, view): (&Profile, Option<&View<'_>>),
    (form, is_own): (&Form, bool),
    CopyMark { serial, sheet }: CopyMark<'_>,
    foot: Foot,
) -> Option<Document> {
    let owner = if is_own { TextOwner::Plan } else { TextOwner::Program };
    Some(Document {
        kind: FORM.name,
        stem: form.id.to_string(),
        title: form.title.to_string(),
        language: profile.language.clone(),
        layout: At::new(form_layout(form), if is_own { form.id.span } else { Span::NOWHERE }),
        variant: None,
        paper: Tables::built_in().papers.get(&profile.paper)?.id.as_str(),
        copies: 1,
        foot: foot_of_copy(foot, serial, sheet),
        once: once(profile),
        sections: vec![form_section(form, owner, FilledFrom { profile, view, net: None, serial })],
    })
}
