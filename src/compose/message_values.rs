//! What a form has of the message whose sheet it is, and where it stands in a field: in boxes for words, as a tick, or on its lines.

use super::block::{Cell, Role, Text};
use super::exercise_words::check_of;
use super::form_rows::FormRow;
use super::form_values::FilledFrom;
use crate::audience::Holder;
use crate::plan::{FieldRoom, Message, PlanValue};
use crate::reckon::groups;

/// What is printed in a field beforehand.
#[derive(Default)]
pub(super) struct Beforehand {
    /// Words in its room.
    pub text: Option<Text>,
    /// Words of the boxes that are ticked.
    pub ticked: Vec<String>,
    /// Words in boxes for words, or on lines, from the first row on.
    pub cells: Vec<FormRow>,
}

/// A value in its parts: words of a text, lines of an address, one instruction after the other.
struct SaidParts {
    each: Vec<Text>,
    /// The zone that a time says itself.
    zone: Option<&'static str>,
    /// What stands between them where they stand on one line.
    between: &'static str,
}

/// Fills a room. Rows are added where a message takes more than the form has.
pub(super) fn fill(value: PlanValue, room: &mut FieldRoom, given: FilledFrom<'_>) -> Beforehand {
    let Some(SaidParts { each, zone, between }) = parts(value, room, given) else { return Beforehand::default() };
    if room.words > 0 {
        let words: Vec<Text> = each.iter().flat_map(words_of).collect();
        return Beforehand { cells: rows(words.chunks(usize::from(room.words)), room), ..Beforehand::default() };
    }
    if room.kind == "lines" && room.rows > 1 && room.boxes.is_empty() {
        return Beforehand { cells: rows(each.chunks(1), room), ..Beforehand::default() };
    }
    if zone.is_some() {
        // It says its zone itself.
        room.at_end.clear();
    }
    let boxes: Vec<String> = room.boxes.iter().chain(&room.end_boxes).cloned().collect();
    let is_ticked = |word: &&String| {
        let is_said = |part: &Text| {
            let said = part.words();
            is_word(word, &said) || said.split_whitespace().next().is_some_and(|first| is_word(word, first))
        };
        each.iter().any(is_said) || zone.is_some_and(|zone| is_word(word, zone))
    };
    let ticked: Vec<String> = boxes.iter().filter(is_ticked).cloned().collect();
    // A tick says all of a part that is the word of its box.
    let left = each.into_iter().filter(|part| !boxes.iter().any(|word| is_word(word, &part.words())));
    let text = left.reduce(|all, part| all.then(between).then_text(part));
    Beforehand { text, ticked, cells: Vec::new() }
}

fn is_word(word: &str, said: &str) -> bool {
    word.to_lowercase() == said.to_lowercase()
}

fn words_of(text: &Text) -> Vec<Text> {
    text.words().split_whitespace().map(|word| Text::plain(word, text.span)).collect()
}

fn rows<'a>(chunks: impl Iterator<Item = &'a [Text]>, room: &mut FieldRoom) -> Vec<FormRow> {
    let cell = |text: &Text| Some(Cell { text: text.clone(), role: Role::Body, base: None });
    let rows: Vec<FormRow> = chunks.map(|row| row.iter().map(cell).collect()).collect();
    room.rows = room.rows.max(u16::try_from(rows.len()).unwrap_or(u16::MAX));
    rows
}

/// The message whose sheet it is.
pub(super) fn message_of<'a>(given: FilledFrom<'a>) -> Option<&'a Message> {
    match given.view?.holder()? {
        Holder::Message(message) => Some(message),
        Holder::Member(_) | Holder::Place(_) => None,
    }
}

/// None where nothing is known.
fn parts(value: PlanValue, room: &FieldRoom, given: FilledFrom<'_>) -> Option<SaidParts> {
    let parts = match message_of(given) {
        Some(message) if value == PlanValue::IncidentName && given.value(value).is_none() => {
            SaidParts { each: exercise_of(message, given).into_iter().collect(), zone: None, between: ", " }
        }
        Some(message) if value.is_of_message() || value == PlanValue::Serial => of_message(message, value, room, given),
        _ => {
            // The plan's own times are local ones.
            let zone = matches!(value, PlanValue::DutyFrom | PlanValue::DutyTo).then_some("local");
            SaidParts { each: given.value(value).into_iter().collect(), zone, between: ", " }
        }
    };
    (!parts.each.is_empty()).then_some(parts)
}

fn of_message(message: &Message, value: PlanValue, room: &FieldRoom, given: FilledFrom<'_>) -> SaidParts {
    let time = message.time_filed;
    let one = |text: String, span| vec![Text::plain(text, span)];
    let (mut zone, mut between) = (None, ", ");
    let each = match value {
        PlanValue::Serial | PlanValue::MessageNumber => one(message.number.value.to_string(), message.number.span),
        PlanValue::MessagePrecedence => {
            between = " ";
            precedence(message, &room.boxes, given)
        }
        PlanValue::MessageHandling => {
            let said = message.handling.iter();
            said.map(|handling| Text::plain(handling.value.to_string(), handling.span)).collect()
        }
        PlanValue::MessageStationOfOrigin => {
            one(message.station_of_origin.value.to_string(), message.station_of_origin.span)
        }
        PlanValue::MessageCheck => {
            one(check_of(message).to_string(), message.check.map_or(message.text.span, |check| check.span))
        }
        PlanValue::MessagePlaceOfOrigin => one(message.place_of_origin.value.to_string(), message.place_of_origin.span),
        PlanValue::MessageDate => one(message.date.value.to_string(), message.date.span),
        PlanValue::MessageTimeFiled | PlanValue::MessageFiled => {
            zone = time.map(|time| if time.value.is_utc() { "UTC" } else { "local" });
            let date =
                if value == PlanValue::MessageFiled { format!("{} ", message.date.value) } else { String::new() };
            time.map(|time| Text::plain(format!("{date}{}", time.value), time.span)).into_iter().collect()
        }
        PlanValue::MessageTo => message.to.value.iter().map(|line| Text::plain(line.as_str(), line.span)).collect(),
        PlanValue::MessageText => {
            groups(message.text.as_str()).into_iter().map(|group| Text::plain(group, message.text.span)).collect()
        }
        PlanValue::MessageSignature => one(message.signature.to_string(), message.signature.span),
        _ => Vec::new(),
    };
    if value == PlanValue::MessageText {
        between = " ";
    }
    SaidParts { each, zone, between }
}

/// The exercise of a message that is no real one, in the place of an incident's name: `EXERCISE Long night`.
fn exercise_of(message: &Message, given: FilledFrom<'_>) -> Option<Text> {
    let word = message.precedence.value.drill?;
    let exercise = given.view.and_then(|view| view.plan().exercise.as_ref());
    let name = exercise.map(|exercise| format!(" {}", exercise.name.value)).unwrap_or_default();
    Some(Text::plain(format!("{word}{name}"), message.precedence.span))
}

/// The word that marks it as no real one, and the word of the scale: that of the boxes where they have it.
fn precedence(message: &Message, boxes: &[String], given: FilledFrom<'_>) -> Vec<Text> {
    let written = &message.precedence;
    let of_boxes = written.value.of_scale(boxes);
    let word = of_boxes.or_else(|| written.value.of_scale(&given.profile.precedence));
    let word = word.map_or(written.value.word.as_str(), |(_, word)| word);
    let all = written.value.drill.into_iter().chain([word]);
    all.map(|word| Text::plain(word, written.span)).collect()
}
