//! Something to write on: a form of the plan or one that comes with the program.

use crate::audience::View;
use crate::compose::block::{Block, Cell, FieldBlock, FieldLine, FormBlock, Paragraph, Role, Section, Text};
use crate::compose::form_rows::{FormRow, rows};
use crate::compose::form_values::FilledFrom;
use crate::compose::kind::{Compose, Kind};
use crate::compose::message_values::{Beforehand, fill, message_of};
use crate::ground::{At, Audience, Span, Words, plural};
use crate::plan::{Each, FieldMeaning, FieldRoom, Form, FormField, FormLine, WORDS_A_MINUTE};
use crate::reckon::words;
use crate::tables::Profile;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "form",
    title: "Form",
    about: "a message form, a log, or the team's own",
    layout: "full",
    each: &[Each::Once, Each::Member, Each::Place, Each::Message],
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

fn compose(view: &View<'_>, form: &Form, given: FilledFrom<'_>) -> Vec<Section> {
    let place = if view.plan().forms.named(&form.id).is_some() { TextOwner::Plan } else { TextOwner::Program };
    vec![section(form, place, given)]
}

/// The one section of a form.
pub(in crate::compose) fn section(form: &Form, place: TextOwner, given: FilledFrom<'_>) -> Section {
    let mut blocks = Vec::new();
    blocks.extend(form.purpose.as_ref().map(|purpose| small(place.text(purpose))));
    blocks.extend(read_out(form, place, given).map(small));
    let mut hidden = 0;
    let lines = form.lines.iter().map(|line| field_line(line, form, place, given, &mut hidden)).collect();
    blocks.push(Block::Form(FormBlock { lines }));
    if hidden > 0 {
        blocks.push(small(Text::own(format!("{hidden} more, not on this copy."))));
    }
    blocks.extend(origin(form, place).map(small));
    Section { key: "form", title: place.text(&form.title), blocks }
}

fn small(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Small })
}

/// What is read aloud in which order, how, and how long it takes.
fn read_out(form: &Form, place: TextOwner, given: FilledFrom<'_>) -> Option<Text> {
    let stretches: Vec<String> = form.read_aloud.iter().map(|stretch| stretch.value.to_string()).collect();
    let mut parts = Vec::new();
    if !stretches.is_empty() {
        parts.push(format!("Read aloud {}.", stretches.join(", then ")));
    }
    parts.extend(form.reading.as_ref().map(|reading| reading.value.to_string()));
    if !stretches.is_empty() {
        parts.extend(reading_time(form, given));
    }
    let span = form.reading.as_ref().map_or(form.title.span, |reading| reading.span);
    (!parts.is_empty()).then(|| Text::plain(parts.join(" "), place.of(span)))
}

/// How long the text of its message takes, or its boxes for words when they are full.
fn reading_time(form: &Form, given: FilledFrom<'_>) -> Option<String> {
    let boxes = form.fields().map(|field| u32::from(field.room.words) * u32::from(field.room.rows)).max()?;
    let said = message_of(given).and_then(|message| u32::try_from(words(message.text.as_str())).ok());
    let boxes = said.filter(|_| boxes > 0).unwrap_or(boxes);
    let minutes = boxes.div_ceil(u32::from(WORDS_A_MINUTE));
    (boxes > 0).then(|| {
        let minutes = plural(usize::try_from(minutes).unwrap_or(usize::MAX), "minute");
        let boxes = if boxes == 1 { "1 word takes".to_owned() } else { format!("{boxes} words take") };
        format!("{boxes} about {minutes} at {WORDS_A_MINUTE} a minute, written down and with repeats (common practice, no source).")
    })
}

/// `After ICS 213 General Message. Kept by the training team. Form edition 1.`
fn origin(form: &Form, place: TextOwner) -> Option<Text> {
    let follows = form.follows.as_ref().map(|words| format!("After {}. ", words.value)).unwrap_or_default();
    let owner = form.owner.as_ref().map(|owner| format!("Kept by {}. ", owner.value)).unwrap_or_default();
    let widest = form.audience.as_ref().map(|audience| format!("Readers: {} at the widest. ", audience.value));
    let widest = widest.unwrap_or_default();
    let span = form.follows.as_ref().or(form.owner.as_ref()).map_or(form.edition.span, |words| words.span);
    Some(Text::plain(format!("{follows}{owner}{widest}Form edition {}.", form.edition.value), place.of(span)))
}

fn field_line(line: &FormLine, form: &Form, place: TextOwner, given: FilledFrom<'_>, hidden: &mut usize) -> FieldLine {
    let added = || {
        let owner = form.owner.as_ref().map(|owner| format!(" by {}", owner.value)).unwrap_or_default();
        Text::own(format!("Added{owner}"))
    };
    let title = line.title.as_ref().map(|title| place.text(title)).or_else(|| line.is_added.then(added));
    let fields = line.fields.iter().map(|own| field(own, place, given, hidden)).collect();
    FieldLine { title, begins_page: line.begins_page, is_added: line.is_added, fields }
}

fn field(field: &FormField, place: TextOwner, given: FilledFrom<'_>, hidden: &mut usize) -> FieldBlock {
    let mut room = room(field, given.profile);
    let Beforehand { text, ticked, cells } = field.from.map(|value| fill(value, &mut room, given)).unwrap_or_default();
    let cells = if cells.is_empty() { self::cells(&room, given, hidden) } else { cells };
    room.rows = room.rows.max(u16::try_from(cells.len()).unwrap_or(u16::MAX));
    FieldBlock {
        number: field.mark.map(|mark| mark.value.to_string()),
        label: place.text(&field.label),
        help: field.help.as_ref().map(|help| place.text(help)),
        share: field.share,
        room,
        filled: text,
        ticked,
        cells,
    }
}

/// With the profile's words where its boxes stand for what the profile has words for; what they mean is said as long as they are the
/// form's own.
fn room(field: &FormField, profile: &Profile) -> FieldRoom {
    let of_profile = field.meaning.map(|meaning| match meaning {
        FieldMeaning::Precedence => &profile.precedence,
    });
    let Some(words) = of_profile.filter(|words| !words.is_empty()) else { return field.room.clone() };
    let is_own =
        field.room.boxes.iter().map(|word| word.to_lowercase()).eq(words.iter().map(|word| word.to_lowercase()));
    let meanings = if is_own { field.room.meanings.clone() } else { Vec::new() };
    FieldRoom { meanings, ..FieldRoom::ticks(words.clone()) }
}

/// What is printed in the rows of a table, from the first on: records of the plan, else labels and cells of the form.
fn cells(room: &FieldRoom, given: FilledFrom<'_>, hidden: &mut usize) -> Vec<FormRow> {
    let values: Vec<_> = room.columns.iter().map(|column| column.from).collect();
    let mut printed = Vec::new();
    if let Some((source, view)) = room.rows_from.zip(given.view) {
        let (rows, more) = rows(source, &values, (view, given.net));
        *hidden += more;
        printed = rows;
    }
    let named = room.columns.iter().map(|column| column.cells.len()).chain([room.row_labels.len()]).max().unwrap_or(0);
    for row in printed.len()..named {
        let own = |(place, column): (usize, &crate::plan::FieldColumn)| {
            let label = room.row_labels.get(row).filter(|_| place == 0);
            let words = label.or_else(|| column.cells.get(row)).filter(|words| !words.is_empty())?;
            Some(Cell { text: Text::own(words.clone()), role: Role::Body, base: None })
        };
        printed.push(room.columns.iter().enumerate().map(own).collect());
    }
    printed
}
