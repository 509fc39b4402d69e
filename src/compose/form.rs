//! Something to write on: a form of the plan or one that comes with the program.

use super::block::{
    Block, Document, FieldKind, Form as FormBlock, FormField as FieldBlock, FormLine, Paragraph, Role, Section, Text,
};
use super::foot::{foot_of_form, once};
use super::kind::{Kind, Order};
use crate::audience::View;
use crate::ground::{At, Files, Findings, Id, Span, Words};
use crate::plan::{Each, Form, FormField, FormFieldKind, Plan, Register, builtin_forms};
use crate::tables::{Profile, Tables};
use std::sync::LazyLock;

/// The kind.
pub(super) const KIND: Kind = Kind {
    name: "form",
    title: "Form",
    layout: "full",
    each: &[Each::Once],
    is_last: false,
    sections: &["form"],
    compose,
};

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
        kind: KIND.name,
        stem: name.to_owned(),
        title: form.title.to_string(),
        language: profile.language.clone(),
        layout: At::new(KIND.layout.to_owned(), Span::NOWHERE),
        variant: None,
        paper: Tables::built_in().papers.get(&profile.paper)?.id.as_str(),
        copies,
        foot: foot_of_form(form),
        once: once(profile),
        sections: vec![section(form, Place::Program, profile)],
    })
}

/// Whose text it is: spans of built-in forms point into no file of the run.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    Plan,
    Program,
}

impl Place {
    const fn of(self, span: Span) -> Span {
        match self {
            Self::Plan => span,
            Self::Program => Span::NOWHERE,
        }
    }
    fn text(self, words: &At<Words>) -> Text {
        Text::plain(words.as_str(), self.of(words.span))
    }
}

fn compose(view: &View<'_>, order: &Order<'_>) -> Vec<Section> {
    let Some(form) = order.form else { return Vec::new() };
    let place = if view.plan().forms.named(&form.id).is_some() { Place::Plan } else { Place::Program };
    vec![section(form, place, view.profile())]
}

fn section(form: &Form, place: Place, profile: &Profile) -> Section {
    let mut blocks = Vec::new();
    blocks.extend(form.reading.as_ref().map(|reading| small(place.text(reading))));
    let lines =
        form.lines.iter().map(|fields| FormLine { fields: fields.iter().map(|f| field(f, place, profile)).collect() });
    blocks.push(Block::Form(FormBlock { lines: lines.collect() }));
    blocks.extend(origin(form, place).map(small));
    Section { key: "form", title: place.text(&form.title), blocks }
}

fn small(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Small })
}

/// `After ICS 213 General Message. Kept by the training team. Form edition 1.`
fn origin(form: &Form, place: Place) -> Option<Text> {
    let base = form.base.as_ref().map(|base| format!("After {}. ", base.value)).unwrap_or_default();
    let owner = form.owner.as_ref().map(|owner| format!("Kept by {}. ", owner.value)).unwrap_or_default();
    let span = form.base.as_ref().or(form.owner.as_ref()).map_or(form.edition.span, |words| words.span);
    Some(Text::plain(format!("{base}{owner}Form edition {}.", form.edition.value), place.of(span)))
}

/// The field of a built-in form whose boxes are the words of the country: how urgent a message is.
const PRECEDENCE: &str = "B. Precedence";

fn field(field: &FormField, place: Place, profile: &Profile) -> FieldBlock {
    let has_own = place == Place::Program && field.label.as_str() == PRECEDENCE && !profile.precedence.is_empty();
    let strings = |list: &[At<Words>]| list.iter().map(|words| words.to_string()).collect();
    let kind = match &field.kind {
        FormFieldKind::Lines(lines) => FieldKind::Lines(*lines),
        FormFieldKind::Ticks(_) if has_own => FieldKind::Ticks(profile.precedence.clone()),
        FormFieldKind::Ticks(ticks) => FieldKind::Ticks(strings(ticks)),
        FormFieldKind::Words { columns, rows } => FieldKind::Words { columns: *columns, rows: *rows },
        FormFieldKind::Ruled { columns, rows, is_filling } => FieldKind::Ruled {
            columns: columns.iter().map(|(heading, share)| (heading.to_string(), *share)).collect(),
            rows: *rows,
            is_filling: *is_filling,
        },
    };
    FieldBlock {
        number: field.number.as_ref().map(|number| number.value),
        label: place.text(&field.label),
        help: field.help.as_ref().map(|help| place.text(help)),
        share: field.share,
        kind,
        filled: None,
    }
}
