//! The channel list as plain text, for whoever scans the card: compact lines, a few hundred bytes a symbol.

use super::block::{Block, Cell, Symbol, Text};
use super::channel_words::{emission, hear, hear_tone, in_order, power, reached, row_number, service, tuned, warning};
use super::foot::foot;
use super::holding::{Holding, own_send, own_tone};
use super::site_words::{power_words, silent_place};
use crate::audience::View;
use crate::ground::Tone;
use crate::plan::Channel;
use std::collections::BTreeMap;

/// Most bytes in one symbol: 287 make 65 modules a side (ISO/IEC 18004, version 12, level M), which at 0.4 mm still stand on an ID-1 card
/// between head and foot. Larger ones are hard to scan under a headlamp anyway.
const MOST: usize = 287;
/// The same where head and foot say that it is an exercise and leave less room: 57 modules a side (version 10).
const MOST_IN_EXERCISE: usize = 213;
/// What a line says after the name.
const HEAD: &str = "hear|send|tone|set";
/// How many rows have to be set alike before that is said once.
const ALIKE: usize = 3;

/// What the row of a card says: `1 CMD 1|146.9400|146.3400|103.5`, what else is set, and a warning.
struct ListLine {
    row: String,
    set: String,
    warning: String,
}

impl ListLine {
    /// What is set as in most rows is left out, and where nothing is set that is said.
    fn words(&self, common: Option<&str>) -> String {
        let set = match common {
            Some(common) if self.set == common => "",
            Some(_) if self.set.is_empty() => "-",
            _ => self.set.as_str(),
        };
        let parts = [self.row.as_str(), set, self.warning.as_str()];
        parts.join("|").trim_end_matches('|').to_owned()
    }
}

/// What most rows have set, where several are alike; of two as common the first by its letters, so that every run says the same.
fn common(lines: &[ListLine]) -> Option<&str> {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for line in lines.iter().filter(|line| !line.set.is_empty()) {
        *counts.entry(&line.set).or_default() += 1;
    }
    let most = counts.into_iter().rev().max_by_key(|(_, count)| *count)?;
    (most.1 >= ALIKE).then_some(most.0)
}

/// QR symbols that together hold the lines of all channels, each to be understood by itself; none without channels.
pub(super) fn symbols(view: &View<'_>) -> Vec<Block> {
    let channels = in_order(view.plan());
    let lines: Vec<ListLine> = channels.iter().map(|channel| line(channel, view)).collect();
    let foot = foot(view);
    let exercise = foot.exercise.as_ref().map(|mark| format!(", {}", mark.word)).unwrap_or_default();
    let common = common(&lines);
    let common_words = common.map(|words| format!(" ({words} where not said)")).unwrap_or_default();
    let head = foot.edition.then(format!("{exercise}\n{HEAD}{common_words}"));
    let most = if foot.exercise.is_some() { MOST_IN_EXERCISE } else { MOST };
    let most = most.saturating_sub(head.words().len());
    let mut symbols = Vec::new();
    let mut part: Vec<&Channel> = Vec::new();
    let mut text = String::new();
    for (channel, line) in channels.into_iter().zip(&lines) {
        let line = line.words(common);
        if !part.is_empty() && text.len() + line.len() + 1 > most {
            symbols.push(symbol(&part, head.clone().then(std::mem::take(&mut text))));
            part.clear();
        }
        text.push('\n');
        text.push_str(&line);
        part.push(channel);
    }
    if !part.is_empty() {
        symbols.push(symbol(&part, head.then(text)));
    }
    symbols
}

/// The line of a channel. A hear tone that is off is left out.
fn line(channel: &Channel, view: &View<'_>) -> ListLine {
    let holding = Holding::of(channel, view);
    let holding = holding.as_ref();
    let unit = if channel.side().is_some() { " kHz" } else { "" };
    // Words stand where a frequency may not be sent: they have no unit.
    let dialled = |cell: &Cell| {
        let words = cell.text.words();
        if cell.role.is_dialled() { format!("{words}{unit}") } else { words }
    };
    let (hear, send) = (dialled(&hear(channel)), dialled(&own_send(channel, view, holding)));
    let send = if send == hear { "same".to_owned() } else { send };
    let whole = |tone: Tone, words: String| if tone.sense().is_some() { tone.keyed_whole() } else { words };
    let tone = own_tone(channel, holding).map(|cell| whole(channel.send_tone.value, cell.text.words()));
    let hear_tone = match channel.hear_tone.value {
        Tone::Unknown => Some("hear tone unknown".to_owned()),
        tone => hear_tone(channel).map(|cell| format!("hear tone {}", whole(tone, cell.text.words()))),
    };
    let sends = channel.send.is_some() && silent_place(view).is_none() && holding.is_none_or(Holding::sends);
    let mut set: Vec<String> = hear_tone.into_iter().collect();
    // Voice on the dial needs no word: the side says it.
    set.extend(Some(emission(channel)).filter(|words| channel.side().is_none() || words != "voice"));
    set.extend(tuned(channel));
    set.extend(sends.then(|| power_words(power(channel, view), channel, view)).flatten());
    set.extend(reached(channel, view.plan()));
    set.extend(service(channel, view));
    let warning = holding.map_or_else(|| warning(channel, view), |holding| holding.why(channel, view));
    ListLine {
        row: format!("{} {}|{hear}|{send}|{}", row_number(channel), channel.name.value, tone.unwrap_or_default()),
        set: set.join(", ").replace('\u{b1}', "+-"),
        warning: warning.map(|text| text.words()).unwrap_or_default(),
    }
}

fn symbol(part: &[&Channel], payload: Text) -> Block {
    let name = |channel: Option<&&Channel>| channel.map_or_else(String::new, |channel| channel.name.to_string());
    let span = part.first().map_or(crate::ground::Span::NOWHERE, |channel| channel.span);
    let range = match part {
        [one] => one.name.to_string(),
        _ => format!("{} to {}", name(part.first()), name(part.last())),
    };
    let caption = format!("{range} as plain text");
    Block::Symbol(Symbol { payload, caption: Text::plain(caption, span) })
}
