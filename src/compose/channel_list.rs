//! The channel list as plain text, for whoever scans the card: compact lines, a few hundred bytes a symbol.

use super::block::{Block, Row, Symbol, Text};
use super::channel_words::{in_order, no_hear_tone};
use super::foot::foot;
use crate::audience::View;
use crate::plan::Channel;

/// Most bytes in one symbol: 287 make 65 modules a side (ISO/IEC 18004, version 12, level M), which at 0.4 mm still stand on an ID-1 card
/// between head and foot. Larger ones are hard to scan under a headlamp anyway.
const MOST: usize = 287;
/// The same where head and foot say that it is an exercise and leave less room: 57 modules a side (version 10).
const MOST_IN_EXERCISE: usize = 213;
/// What a line says after the name; said in the first symbol.
const HEAD: &str = "hear|send|tone|set";
/// What a line says by leaving it out.
const USUAL: &str = "hear tone off";

/// QR symbols that together hold the lines of all channels; none without channels.
pub(super) fn symbols(lines: Vec<String>, view: &View<'_>) -> Vec<Block> {
    let foot = foot(view);
    let exercise = foot.exercise.map(|word| format!(", {word}")).unwrap_or_default();
    let head = foot.edition.then(exercise);
    let most = if foot.exercise.is_some() { MOST_IN_EXERCISE } else { MOST };
    let most = most.saturating_sub(head.words().len());
    let mut symbols = Vec::new();
    let mut part: Vec<&Channel> = Vec::new();
    let mut text = format!("\n{HEAD}");
    for (channel, line) in in_order(view.plan()).into_iter().zip(lines) {
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

/// `1 CMD 1|146.9400|146.3400|103.5|FM +-5, 25 W`: what the row of the card says.
pub(super) fn line(channel: &Channel, row: &Row, set: Vec<String>) -> String {
    let unit = if channel.side().is_some() { " kHz" } else { "" };
    let said = |key: &str| row.cell(key).map(|cell| cell.text.words()).unwrap_or_default();
    // Words stand where a frequency may not be sent: they have no unit.
    let frequency = |key: &str| match row.cell(key).filter(|cell| cell.role.is_dialled()) {
        Some(cell) => format!("{}{unit}", cell.text.words()),
        None => said(key),
    };
    let hear_tone = row.cell("hear-tone").map(|cell| format!("hear tone {}", cell.text.words()));
    let unknown = no_hear_tone(channel).filter(|words| *words != USUAL).map(str::to_owned);
    let set: Vec<String> = hear_tone.into_iter().chain(unknown).chain(set).collect();
    let warning = row.cell("warn").map(|cell| format!("|{}", cell.text.words())).unwrap_or_default();
    let set = set.join(", ").replace('\u{b1}', "+-");
    format!(
        "{} {}|{}|{}|{}|{set}{warning}",
        said("row"),
        said("name"),
        frequency("hear"),
        frequency("send"),
        said("tone")
    )
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
