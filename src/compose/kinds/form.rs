//! Something to write on: a form of the plan or one that comes with the program.

use crate::audience::View;
use crate::compose::block::{Block, FieldBlock, FieldLine, FormBlock, Paragraph, Role, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::ground::{At, Audience, Span, Words};
use crate::plan::{Each, FieldMeaning, FieldRoom, Form, FormField};
use crate::tables::Profile;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "form",
    title: "Form",
    about: "a message form, a log, or the team's own",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["form"],
    tables: &[],
    compose: Compose::Form(compose),
};

/// Whose text it is: spans of built-in forms point into no file of the run.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::compose) enum TextOwner {
    /// The plan's own.
    Plan,
    /// A form that comes with the program.
    Program,
}

impl TextOwner {
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

fn compose(view: &View<'_>, form: &Form) -> Vec<Section> {
    let place = if view.plan().forms.named(&form.id).is_some() { TextOwner::Plan } else { TextOwner::Program };
    vec![section(form, place, view.profile())]
}

/// The one section of a form.
pub(in crate::compose) fn section(form: &Form, place: TextOwner, profile: &Profile) -> Section {
    let mut blocks = Vec::new();
    blocks.extend(form.reading.as_ref().map(|reading| small(place.text(reading))));
    let lines =
        form.lines.iter().map(|fields| FieldLine { fields: fields.iter().map(|f| field(f, place, profile)).collect() });
    blocks.push(Block::Form(FormBlock { lines: lines.collect() }));
    blocks.extend(origin(form, place).map(small));
    Section { key: "form", title: place.text(&form.title), blocks }
}

fn small(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Small })
}

/// `After ICS 213 General Message. Kept by the training team. Form edition 1.`
fn origin(form: &Form, place: TextOwner) -> Option<Text> {
    let base = form.base.as_ref().map(|base| format!("After {}. ", base.value)).unwrap_or_default();
    let owner = form.owner.as_ref().map(|owner| format!("Kept by {}. ", owner.value)).unwrap_or_default();
    let span = form.base.as_ref().or(form.owner.as_ref()).map_or(form.edition.span, |words| words.span);
    Some(Text::plain(format!("{base}{owner}Form edition {}.", form.edition.value), place.of(span)))
}

fn field(field: &FormField, place: TextOwner, profile: &Profile) -> FieldBlock {
    let of_profile = field.meaning.map(|meaning| match meaning {
        FieldMeaning::Precedence => &profile.precedence,
    });
    let of_profile = of_profile.filter(|words| !words.is_empty());
    let room = of_profile.map_or_else(|| field.room.clone(), |words| FieldRoom::ticks(words.clone()));
    FieldBlock {
        number: field.number.as_ref().map(|number| number.value.get()),
        label: place.text(&field.label),
        help: field.help.as_ref().map(|help| place.text(help)),
        share: field.share,
        room,
        filled: None,
    }
}
