//! The forms that come with the program, and a blank one without a plan.

use super::block::Document;
use super::foot::{foot_of_form, once};
use super::kinds::{FORM, TextOwner, form_section};
use crate::ground::{At, Files, Findings, Id, Span};
use crate::plan::{Form, Plan, Register, builtin_forms};
use crate::tables::{Profile, Tables};
use std::sync::LazyLock;

/// The forms that come with the program; a test of the plan floor holds them to be without fault.
static BUILT_IN: LazyLock<Register<Form>> =
    LazyLock::new(|| builtin_forms(&mut Files::of_program(), &mut Findings::default()));

/// The forms that come with the program.
pub(super) fn built_in() -> &'static Register<Form> {
    &BUILT_IN
}

/// The form of this id: the plan's own first, then the program's.
pub(super) fn find<'a>(plan: &'a Plan, id: &Id) -> Option<&'a Form> {
    plan.forms.named(id).or_else(|| built_in().named(id))
}

/// Names and titles of the forms that come with the program.
#[must_use]
pub fn form_names() -> Vec<(String, String)> {
    BUILT_IN.iter().map(|form| (form.id.to_string(), form.title.to_string())).collect()
}

/// A built-in form without a plan: its foot shows the form's own edition. None when no form is called `name`.
#[must_use]
pub fn blank_form(profile: &Profile, name: &str, copies: u16) -> Option<Document> {
    let form = built_in().named(&Id::parse(name).ok()?)?;
    Some(Document {
        kind: FORM.name,
        stem: name.to_owned(),
        title: form.title.to_string(),
        language: profile.language.clone(),
        layout: At::new(FORM.layout.to_owned(), Span::NOWHERE),
        variant: None,
        paper: Tables::built_in().papers.get(&profile.paper)?.id.as_str(),
        copies,
        foot: foot_of_form(form),
        once: once(profile),
        sections: vec![form_section(form, TextOwner::Program, profile)],
    })
}
