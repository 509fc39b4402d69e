//! What the papers of an exercise say of its injects, in words.

use super::block::{Block, Paragraph, Role, Text};
use crate::audience::View;
use crate::plan::{Clock, Exercise, Inject, Message, Plan, WordCheck};
use crate::reckon::{groups, inject_words, is_arl, reading_seconds};

/// Where an inject is delivered, by the place's tactical call.
pub(super) fn delivered_at(inject: &Inject, plan: &Plan) -> Text {
    let place = plan.places.get(&inject.deliver_at.value);
    let words = place.map_or_else(|| inject.deliver_at.value.to_string(), |place| place.tactical.value.to_string());
    Text::plain(words, inject.deliver_at.span)
}

/// The net on which it is then sent.
pub(super) fn sent_on(inject: &Inject, plan: &Plan) -> Option<Text> {
    let net = inject.net.as_ref()?;
    let words = plan.nets.get(&net.value).map_or_else(|| net.value.to_string(), |net| net.name.value.to_string());
    Some(Text::plain(words, net.span))
}

/// The message that it hands over.
pub(super) fn message_of<'a>(inject: &Inject, plan: &'a Plan) -> Option<&'a Message> {
    plan.messages.get(&inject.message.as_ref()?.value)
}

/// All that it says, on one line: its own text, then its message.
pub(super) fn whole_text(inject: &Inject, plan: &Plan) -> Text {
    let own = inject.text.as_ref().map(|text| Text::plain(text.as_str(), text.span));
    let message = message_of(inject, plan).map(|message| {
        Text::plain(format!("Message {}: {}", message.number.value, message.text.value), message.text.span)
    });
    match (own, message) {
        (Some(own), Some(message)) => own.then(" ").then_text(message),
        (own, message) => own.or(message).unwrap_or_default(),
    }
}

/// The check of a message: as written, or the count of its text.
pub(super) fn check_of(message: &Message) -> WordCheck {
    let text = message.text.as_str();
    message.check.map_or_else(|| WordCheck { is_arl: is_arl(text), count: groups(text).len() }, |check| check.value)
}

/// The preamble of a message, in the order in which it is sent, with the count that its text has where none is written.
pub(super) fn preamble(message: &Message) -> Text {
    let check = check_of(message).to_string();
    let handling = message.handling.iter().map(|handling| handling.value.to_string());
    let time = message.time_filed.map(|time| time.value.to_string());
    let parts = [message.number.value.to_string(), message.precedence.value.to_string()].into_iter().chain(handling);
    let parts =
        parts.chain([message.station_of_origin.value.to_string(), check, message.place_of_origin.value.to_string()]);
    let words: Vec<String> = parts.chain(time).chain([message.date.value.to_string()]).collect();
    Text::plain(words.join("  "), message.number.span)
}

/// `12 words, 36 s to read out`.
pub(super) fn length(inject: &Inject, view: &View<'_>, exercise: &Exercise) -> Text {
    let words = inject_words(view.plan(), inject);
    let counted = if words == 1 { "1 word".to_owned() } else { format!("{words} words") };
    Text::own(format!("{counted}, {} to read out", lasting(reading_seconds(words, exercise.pace()))))
}

/// `36 s`, or `2 min 6 s`.
pub(super) fn lasting(seconds: u64) -> String {
    match (seconds / 60, seconds % 60) {
        (0, seconds) => format!("{seconds} s"),
        (minutes, 0) => format!("{minutes} min"),
        (minutes, seconds) => format!("{minutes} min {seconds} s"),
    }
}

/// `09:00`; with its day where the exercise has several.
pub(super) fn at(inject: &Inject, exercise: &Exercise, plan: &Plan) -> Text {
    let clock = Clock::of(plan);
    let at = clock.instant(inject.at.value);
    let is_one_day = clock.day(clock.instant(exercise.from.value)) == clock.day(clock.instant(exercise.to.value));
    let words = if is_one_day { clock.time_and_utc(at) } else { clock.moment(at) };
    Text::plain(words, inject.at.span)
}

/// What every sheet for people in the exercise says first.
pub(super) fn real_words(exercise: &Exercise) -> Block {
    let said = Text::plain("In a real emergency say ", exercise.real_emergency.span);
    let said = said.then_strong(format!("\"{}\"", exercise.real_emergency.value));
    warning(said.then(": the exercise stops, and what follows is real."))
}

pub(super) fn warning(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Warning })
}

pub(super) fn body(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}
