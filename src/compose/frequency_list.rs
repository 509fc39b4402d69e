//! Every channel by what it hears, those outside the amateur bands included: for whoever hears something and asks what it is.

use super::block::{Align, Block, Cell, Column, Paragraph, Role, Row, Text};
use super::channel_words::{
    VOICE, about, emission, hear, hear_tone, in_order, name_text, narrow, row_number, send, senses, service_word, tone,
};
use super::kind::{TableKind, UsualSet};
use crate::audience::View;
use crate::ground::{Tone, plural};
use crate::plan::{Channel, subject};
use std::collections::BTreeMap;

/// Channels that are dialled in megahertz.
pub(super) const FREQUENCIES: TableKind = TableKind {
    key: "frequencies",
    columns: &[
        Column::may("row", "ch", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear MHz", Role::Hear),
        Column::must("send", "send MHz", Role::Send),
        Column::must("tone", "tone", Role::Tone),
        Column::must("hear-tone", "hear tone", Role::Tone),
        Column::may("set", "also", Role::Small).aligned(Align::End),
    ],
    set: UsualSet::ListOf(&["row", "name", "hear", "send", "tone", "hear-tone", "set"]),
};

/// Channels on a sideband, whose dial shows kilohertz.
pub(super) const DIALS: TableKind = TableKind {
    key: "dials",
    columns: &[
        Column::may("row", "ch", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "dial kHz", Role::Hear),
        Column::must("side", "side", Role::Word).aligned(Align::End),
        Column::must("send", "send", Role::Send).where_used(),
        Column::may("set", "also", Role::Small).aligned(Align::End),
    ],
    set: UsualSet::ListOf(&["row", "name", "hear", "side", "send", "set"]),
};

/// The lists, what most rows are set to, and how many channels stand in which band.
pub(super) fn by_frequency(view: &View<'_>) -> Vec<Block> {
    let mut channels = in_order(view.plan());
    channels.sort_by_key(|channel| channel.hear.value);
    let (dials, others): (Vec<&Channel>, Vec<&Channel>) = channels.iter().partition(|channel| channel.side().is_some());
    let common = common(&others);
    let mut blocks = Vec::new();
    if !dials.is_empty() {
        blocks.push(DIALS.of(dials.iter().map(|channel| dial_row(channel, view)).collect(), ""));
    }
    if !others.is_empty() || dials.is_empty() {
        let rows = others.iter().map(|channel| row(channel, view, common.as_deref())).collect();
        blocks.push(FREQUENCIES.of(rows, "The plan has no channel."));
    }
    let small = |words: String| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Small });
    let said = common.map(|common| format!("Where nothing else is said: {common}."));
    let said: Vec<String> = said.into_iter().chain((!channels.is_empty()).then(|| bands(&channels, view))).collect();
    blocks.extend((!said.is_empty()).then(|| small(said.join(" "))));
    blocks
}

/// The emission; none of voice on a dial, whose side is said.
fn set_to(channel: &Channel) -> Option<String> {
    Some(emission(channel)).filter(|words| words != VOICE)
}

/// The commonest emission; of two as common the first by its letters. None where none is set twice.
fn common(channels: &[&Channel]) -> Option<String> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for words in channels.iter().filter_map(|channel| set_to(channel)) {
        *counts.entry(words).or_default() += 1;
    }
    let (words, count) = counts.into_iter().rev().max_by_key(|(_, count)| *count)?;
    (count > 1).then_some(words)
}

fn row(channel: &Channel, view: &View<'_>, common: Option<&str>) -> Row {
    let word = |words: &str| Cell { text: Text::plain(words, channel.span), role: Role::Word, base: None };
    // "packet on FM ±5" is packet where FM ±5 is what most have.
    let emission = set_to(channel).filter(|words| Some(words.as_str()) != common);
    let on_common = common.map(|common| format!(" on {common}")).unwrap_or_default();
    let emission = emission.map(|words| words.strip_suffix(&on_common).map_or_else(|| words.clone(), str::to_owned));
    let hear_tone = match channel.hear_tone.value {
        Tone::Unknown => word("unknown"),
        heard => hear_tone(channel).map_or_else(|| word("off"), |cell| narrow(cell, heard)),
    };
    let mut cells = number(channel);
    cells.extend([
        FREQUENCIES.cell("name", name_text(channel)),
        ("hear", hear(channel)),
        ("send", send(channel, view)),
        // What is not sent has no tone: the cell before it says so.
        ("tone", tone(channel).map_or_else(|| word("none"), |cell| narrow(cell, channel.send_tone.value))),
        ("hear-tone", hear_tone),
    ]);
    let set: Vec<String> = senses(channel, channel.send.is_some())
        .into_iter()
        .chain(emission)
        .chain(channel.speed.as_ref().map(|speed| speed.to_string()))
        .chain(about(channel))
        .collect();
    cells.extend((!set.is_empty()).then(|| FREQUENCIES.cell("set", Text::plain(set.join(", "), channel.span))));
    Row { label: group(channel, view), record: Some(subject(channel)), span: channel.span, cells }
}

fn dial_row(channel: &Channel, view: &View<'_>) -> Row {
    let mut cells = number(channel);
    cells.extend([DIALS.cell("name", name_text(channel)), ("hear", hear(channel))]);
    cells.extend(tone(channel).map(|side| ("side", side)));
    // One dial is for both, unless nothing is sent.
    let silent = channel.send.is_none() || send(channel, view).role == Role::Word;
    cells.extend(silent.then(|| ("send", send(channel, view))));
    let set: Vec<String> = about(channel)
        .into_iter()
        .chain(set_to(channel))
        .chain(channel.power.map(|power| power.value.to_string()))
        .collect();
    cells.extend((!set.is_empty()).then(|| DIALS.cell("set", Text::plain(set.join(", "), channel.span))));
    Row { label: "HF".to_owned(), record: Some(subject(channel)), span: channel.span, cells }
}

fn number(channel: &Channel) -> Vec<(&'static str, Cell)> {
    let number = row_number(channel);
    let span = channel.row.as_ref().map_or(channel.span, |row| row.span);
    if number.is_empty() { Vec::new() } else { vec![FREQUENCIES.cell("row", Text::plain(number, span))] }
}

/// The band or the service: rows of another one stand apart.
fn group(channel: &Channel, view: &View<'_>) -> String {
    let band = view.profile().bands.iter().find(|band| band.edges.has(channel.hear.value));
    match band.filter(|_| channel.service.is_amateur()) {
        Some(band) => band.name.clone(),
        None => service_word(channel, view),
    }
}

/// `33 channels: 75 m 1, 2 m 13, marine 1`.
fn bands(channels: &[&Channel], view: &View<'_>) -> String {
    let mut counts: Vec<(String, usize)> = Vec::new();
    for group in channels.iter().map(|channel| group(channel, view)) {
        match counts.iter_mut().find(|(known, _)| *known == group) {
            Some((_, count)) => *count += 1,
            None => counts.push((group, 1)),
        }
    }
    let counts: Vec<String> = counts.iter().map(|(group, count)| format!("{group} {count}")).collect();
    format!("{}: {}.", plural(channels.len(), "channel"), counts.join(", "))
}
