//! The channels as a card has them: what most rows share is said once above them, and a row says what is different.
//!
//! Rule of thumb: a row with what is said above it holds all that is set by hand; what neither says is not to be set.

use super::block::{Align, Block, Cell, Column, Role, Row, Section, Table, Text};
use super::channel_words::{
    emission, hear, hear_tone, in_order, minded, name_text, power, row_number, service, shift, tuned, warning, whither,
};
use super::holding::{Holding, own_send, own_tone};
use super::kind::{TableKind, UsualSet};
use super::own_channels::own_channels;
use super::site_words::{power_words, silent_place};
use crate::audience::View;
use crate::ground::{Lapse, Span, Tone};
use crate::plan::{Channel, subject};
use std::collections::BTreeMap;

/// Channels that are heard on one frequency and sent on the same or another.
pub(super) const CHANNELS: TableKind = TableKind {
    key: "channels",
    columns: &[
        Column::must("row", "", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear MHz", Role::Hear),
        Column::must("send", "send MHz", Role::Send),
        Column::must("tone", "tone", Role::Tone).aligned(Align::End),
        Column::may("spoken", "", Role::Body),
        Column::may("where", "", Role::Body),
        Column::may("shift", "", Role::Body).aligned(Align::End),
        Column::must("after", "", Role::Body),
        Column::must("next", "", Role::Next),
        Column::must("hear-tone", "hear tone", Role::Tone).aligned(Align::End),
        Column::must("set", "", Role::Body),
        Column::must("warn", "", Role::Warning),
        Column::must("lost", "", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["row", "name"],
        right: &["hear", "send", "tone"],
        below: &[
            (&["spoken", "where", "warn"], &["shift", "after", "next"]),
            (&["set"], &["hear-tone"]),
            (&["lost"], &[]),
        ],
        above: (&["row", "name", "spoken"], &["after", "next"]),
        like: None,
    },
};

/// Channels whose frequency is that of the dial.
pub(super) const DIAL: TableKind = TableKind {
    key: "dial",
    columns: &[
        Column::must("row", "", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "dial kHz", Role::Hear).aligned(Align::Point(1)),
        Column::must("side", "side", Role::Word),
        Column::must("power", "power", Role::Word).aligned(Align::End),
        Column::may("spoken", "", Role::Body),
        Column::may("where", "", Role::Body),
        Column::must("after", "", Role::Body),
        Column::must("next", "", Role::Next),
        Column::must("set", "", Role::Body),
        Column::must("warn", "", Role::Warning),
        Column::must("lost", "", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["row", "name"],
        right: &["hear", "side", "power"],
        below: &[(&["spoken", "where", "warn"], &["after", "next"]), (&["set"], &[]), (&["lost"], &[])],
        above: (&["row", "name", "spoken"], &["after", "next"]),
        like: Some("channels"),
    },
};

/// What a channel has that others may share, in words; nothing where it has none of it.
struct Shareable {
    hear_tone: Option<&'static str>,
    emission: String,
    power: Option<String>,
    after: Option<Lapse>,
    warning: Option<Text>,
}

/// A channel on this copy.
struct OnCopy<'a> {
    channel: &'a Channel,
    holding: Option<Holding>,
    own: Shareable,
}

impl<'a> OnCopy<'a> {
    fn of(channel: &'a Channel, view: &View<'_>) -> Self {
        let holding = Holding::of(channel, view);
        let sends = channel.send.is_some() && silent_place(view).is_none();
        let sends = sends && holding.as_ref().is_none_or(Holding::sends);
        let power = sends.then(|| power_words(power(channel, view), channel, view));
        let own = Shareable {
            hear_tone: no_hear_tone(channel),
            emission: emission(channel),
            power: power.map(|words| words.unwrap_or_else(|| "power unknown".to_owned())),
            after: channel.after.map(|after| after.value).filter(|_| channel.next.is_some()),
            warning: minded(
                channel,
                holding.as_ref().map_or_else(|| warning(channel, view), |holding| holding.why(channel, view)),
            ),
        };
        Self { channel, holding, own }
    }

    /// Whether an own radio hears it: else there is nothing to set.
    fn is_set(&self) -> bool {
        !self.holding.as_ref().is_some_and(Holding::is_deaf)
    }
}

/// That no tone to hear is set, or that none is known.
fn no_hear_tone(channel: &Channel) -> Option<&'static str> {
    match channel.hear_tone.value {
        Tone::Unknown => Some("hear tone unknown"),
        Tone::Off | Tone::Carrier => Some("hear tone off"),
        _ => None,
    }
}

/// What is said once above the rows of a table.
#[derive(Default)]
struct Above {
    hear_tone: Option<&'static str>,
    emission: Option<String>,
    power: Option<String>,
    after: Option<Lapse>,
    warning: Option<Text>,
}

/// The commonest of some values; of two as common the first in their order, so that every run says the same.
fn commonest<T: Ord>(values: impl Iterator<Item = T>) -> Option<T> {
    let mut counts: BTreeMap<T, usize> = BTreeMap::new();
    values.for_each(|value| *counts.entry(value).or_default() += 1);
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map(|(value, _)| value)
}

impl Above {
    fn of(rows: &[OnCopy<'_>]) -> Self {
        let set = || rows.iter().filter(|row| row.is_set()).map(|row| &row.own);
        let first = rows.first().and_then(|row| row.own.warning.as_ref());
        let words = |warning: &Option<Text>| warning.as_ref().map(Text::words);
        let is_same = |row: &OnCopy<'_>| words(&row.own.warning) == first.map(Text::words);
        Self {
            hear_tone: commonest(set().filter_map(|own| own.hear_tone)),
            emission: commonest(set().map(|own| own.emission.clone())),
            power: commonest(set().filter_map(|own| own.power.clone())),
            after: commonest(rows.iter().filter_map(|row| row.own.after)),
            warning: first.filter(|_| rows.len() > 1 && rows.iter().all(is_same)).cloned(),
        }
    }

    /// What holds unless a row says otherwise, of these parts.
    fn unless(parts: impl IntoIterator<Item = Option<String>>) -> Option<Text> {
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| Text::own(format!("Unless a row says otherwise: {}", parts.join(", "))))
    }

    /// When to move on, where some row leads on.
    fn moving(&self, rows: &[OnCopy<'_>]) -> Option<Text> {
        let leads_on = rows.iter().any(|row| row.channel.next.is_some());
        let wait = self.after.map(|after| format!(" in {after}")).unwrap_or_default();
        leads_on.then(|| Text::own(format!("No answer{wait}: go to the channel after the arrow")))
    }
}

/// Below 30 MHz one says HF (ITU Radio Regulations, 2.1).
const HF: u64 = 30_000_000;

/// The sections of channels: those heard and sent on megahertz, and those on the dial.
pub(super) fn sections(view: &View<'_>) -> Vec<Section> {
    let all = in_order(view.plan()).into_iter().map(|channel| OnCopy::of(channel, view));
    let (dial, others): (Vec<OnCopy<'_>>, Vec<OnCopy<'_>>) = all.partition(|row| row.channel.side().is_some());
    let mut sections = Vec::new();
    if !others.is_empty() || dial.is_empty() {
        let table = channels(&others, view);
        sections.push(Section { key: "channels", title: Text::own("Channels"), blocks: vec![Block::Table(table)] });
    }
    if !dial.is_empty() {
        let is_hf = dial.iter().all(|row| row.channel.hear.value.as_hertz() < HF);
        let title = Text::own(if is_hf { "HF" } else { "Dial" });
        sections.push(Section { key: "dial", title, blocks: vec![Block::Table(on_the_dial(&dial, view))] });
    }
    sections
}

fn channels(rows: &[OnCopy<'_>], view: &View<'_>) -> Table {
    let above = Above::of(rows);
    let made = rows.iter().map(|row| channel_row(row, &above, view)).collect();
    let mut table = CHANNELS.table(made, "The plan has no channel.");
    let parts = [above.hear_tone.map(str::to_owned), above.emission.clone(), above.power.clone()];
    let above_moving = above.moving(rows);
    table.said = Above::unless(parts).into_iter().chain(above_moving.clone()).chain(above.warning).collect();
    table.said_of_next = above_moving.into_iter().collect();
    table.own = own_places(rows, view);
    table
}

fn on_the_dial(rows: &[OnCopy<'_>], view: &View<'_>) -> Table {
    let above = Above { power: None, ..Above::of(rows) };
    let made = rows.iter().map(|row| dial_row(row, &above, view)).collect();
    let mut table = DIAL.table(made, "");
    let mode = above.emission.as_deref().map(|words| format!("; {words} unless said otherwise")).unwrap_or_default();
    let dial = Text::own(format!("Hear and send on the dial{mode}"));
    let above_moving = above.moving(rows);
    table.said = std::iter::once(dial).chain(above_moving.clone()).chain(above.warning).collect();
    table.said_of_next = above_moving.into_iter().collect();
    table.own = own_places(rows, view);
    table
}

/// Which rows are of the nets that the holder works.
fn own_places(rows: &[OnCopy<'_>], view: &View<'_>) -> Vec<usize> {
    let own = own_channels(view);
    let is_own = |row: &OnCopy<'_>| own.iter().any(|channel| channel.id.value == row.channel.id.value);
    rows.iter().enumerate().filter(|(_, row)| is_own(row)).map(|(place, _)| place).collect()
}

fn channel_row(row: &OnCopy<'_>, above: &Above, view: &View<'_>) -> Row {
    let (channel, holding) = (row.channel, row.holding.as_ref());
    let mut cells = begun(&CHANNELS, channel);
    cells.push(("send", own_send(channel, view, holding)));
    cells.extend(own_tone(channel, holding).map(|cell| ("tone", whole(cell, channel.send_tone.value))));
    cells.push(CHANNELS.cell("spoken", Text::plain(channel.spoken.as_str(), channel.spoken.span)));
    let service = || service(channel, view).map(|words| Text::plain(words, channel.span));
    cells.extend(whither(channel, view.plan()).or_else(service).map(|text| CHANNELS.cell("where", text)));
    cells.extend(
        shift(channel).filter(|_| row.is_set()).map(|words| CHANNELS.cell("shift", Text::plain(words, channel.span))),
    );
    cells.extend(moving_on(&CHANNELS, row, above, view));
    if row.is_set() {
        let heard = hear_tone(channel).map(|cell| whole(cell, channel.hear_tone.value));
        cells.extend(heard.map(|cell| ("hear-tone", cell)));
        cells.extend(set(row, above, view).map(|text| CHANNELS.cell("set", text)));
    }
    finished(&CHANNELS, row, above, cells)
}

fn dial_row(row: &OnCopy<'_>, above: &Above, view: &View<'_>) -> Row {
    let (channel, holding) = (row.channel, row.holding.as_ref());
    let mut cells = begun(&DIAL, channel);
    // The side also where one only listens: one hears nothing without it.
    let send = own_send(channel, view, holding);
    match (row.is_set(), &row.own.power) {
        (false, _) => cells.push(("side", send)),
        (true, power) => {
            cells.extend(own_tone(channel, holding).map(|cell| ("side", cell)));
            // Less at some place stands below, where there is room for it.
            let words = power.as_ref().map(|words| Text::plain(usual(words).0, channel.span));
            cells.push(words.map_or(("power", send), |text| DIAL.cell("power", text)));
        }
    }
    cells.push(DIAL.cell("spoken", Text::plain(channel.spoken.as_str(), channel.spoken.span)));
    cells.extend(whither(channel, view.plan()).map(|text| DIAL.cell("where", text)));
    cells.extend(moving_on(&DIAL, row, above, view));
    if row.is_set() {
        cells.extend(set(row, above, view).map(|text| DIAL.cell("set", text)));
    }
    finished(&DIAL, row, above, cells)
}

type Cells = Vec<(&'static str, Cell)>;

fn begun(table: &TableKind, channel: &Channel) -> Cells {
    let span = channel.row.as_ref().map_or(channel.span, |row| row.span);
    vec![
        table.cell("row", Text::plain(row_number(channel), span)),
        table.cell("name", name_text(channel)),
        ("hear", hear(channel)),
    ]
}

fn finished(table: &TableKind, row: &OnCopy<'_>, above: &Above, mut cells: Cells) -> Row {
    let own = row.own.warning.clone().filter(|_| above.warning.is_none());
    // Who may not send comes before for whom the channel is; where it goes stays.
    let is_direct = row.channel.repeater().is_none() && row.channel.gateway().is_none() && row.channel.note.is_none();
    cells.retain(|(key, _)| *key != "where" || own.is_none() || !is_direct);
    cells.extend(own.map(|text| table.cell("warn", text)));
    cells.retain(|(_, cell)| !cell.text.is_empty());
    let channel = row.channel;
    Row { label: row_number(channel), record: Some(subject(channel)), span: channel.span, cells }
}

/// A tone's cell with nothing beside it to say more.
fn whole(cell: Cell, tone: Tone) -> Cell {
    if cell.role != Role::Tone {
        return cell;
    }
    Cell { text: Text::plain(tone.keyed_whole(), cell.text.span), ..cell }
}

/// A power, and what of it holds at some place alone.
fn usual(words: &str) -> (&str, Option<&str>) {
    words.split_once(", ").map_or((words, None), |(usual, less)| (usual, Some(less)))
}

/// What a row has otherwise than is said above it.
fn set(row: &OnCopy<'_>, above: &Above, view: &View<'_>) -> Option<Text> {
    let (channel, own) = (row.channel, &row.own);
    let other = |words: &String, shared: &Option<String>| shared.as_ref() != Some(words);
    let mut parts: Vec<String> = Vec::new();
    // On the dial no tone is said above, and none is set.
    let has_tones = channel.side().is_none();
    parts.extend(own.hear_tone.filter(|words| has_tones && above.hear_tone != Some(*words)).map(str::to_owned));
    parts.extend(Some(own.emission.clone()).filter(|words| other(words, &above.emission)));
    parts.extend(tuned(channel));
    // On the dial the power has a column.
    let less = own.power.as_ref().filter(|_| !has_tones).and_then(|words| usual(words).1);
    parts.extend(own.power.clone().filter(|words| has_tones && other(words, &above.power)));
    parts.extend(less.map(str::to_owned));
    parts.extend(super::channel_words::reached(channel, view.plan()));
    // Where one only listens any radio will do.
    parts.extend(service(channel, view).filter(|_| channel.send.is_some()));
    (!parts.is_empty()).then(|| Text::plain(parts.join(", "), channel.signal.mode.span))
}

/// Where to go when nobody answers, and when, where that is otherwise; what the own radios do not hear there is named with the channel
/// after it.
fn moving_on(table: &TableKind, row: &OnCopy<'_>, above: &Above, view: &View<'_>) -> Cells {
    let Some((next, more)) = super::channel_words::onward_from(row.channel, view) else { return Vec::new() };
    let span = row.channel.next.as_ref().map_or(Span::NOWHERE, |next| next.span);
    let wait = match (row.own.after, above.after) {
        (own, shared) if own == shared => None,
        (Some(own), _) => Some(own.to_string()),
        (None, _) => Some("any time".to_owned()),
    };
    let mut cells: Cells = wait.into_iter().map(|words| table.cell("after", Text::plain(words, span))).collect();
    cells.push(table.cell("next", Text::plain(next, span)));
    cells.extend(more.map(|words| table.cell("lost", Text::plain(words, span))));
    cells
}
