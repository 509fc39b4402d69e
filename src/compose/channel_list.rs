//! The channel list as plain text, for whoever scans the card: compact lines, a few hundred bytes a symbol.

use super::block::{Block, Symbol, Text};
use super::channel_words::{hear, hear_tone, in_order, send, slot, tone};
use super::foot::foot;
use crate::audience::View;
use crate::plan::Channel;

/// Most bytes in one symbol: 287 make 65 modules a side (ISO/IEC 18004, version 12, level M), which at 0.4 mm still stand on an ID-1 card
/// between head and foot. Larger ones are hard to scan under a headlamp anyway.
const MOST: usize = 287;

/// QR symbols that together hold the list; none without channels.
pub(super) fn symbols(view: &View<'_>) -> Vec<Block> {
    let channels = in_order(view.plan());
    let edition = foot(view).edition;
    let head = "\nslot name hear send tone";
    let most = MOST.saturating_sub(edition.words().len());
    let mut symbols = Vec::new();
    let mut part: Vec<&Channel> = Vec::new();
    let mut text = head.to_owned();
    for channel in channels {
        let line = line(channel, view);
        if !part.is_empty() && text.len() + line.len() + 1 > most {
            let list = std::mem::replace(&mut text, head.to_owned());
            symbols.push(symbol(&part, edition.clone().then(list)));
            part.clear();
        }
        text.push('\n');
        text.push_str(&line);
        part.push(channel);
    }
    if !part.is_empty() {
        symbols.push(symbol(&part, edition.then(text)));
    }
    symbols
}

/// `1 CMD 1 | 146.9400 | 146.3400 | 103.5`.
fn line(channel: &Channel, view: &View<'_>) -> String {
    let words = |cell: Option<super::block::Cell>| cell.map_or_else(|| "off".to_owned(), |cell| cell.text.words());
    let heard = hear_tone(channel).map(|cell| format!("|hear tone {}", cell.text.words())).unwrap_or_default();
    format!(
        "{} {}|{}|{}|{}{heard}",
        slot(channel),
        channel.name.value,
        hear(channel).text.words(),
        send(channel, view).text.words(),
        words(tone(channel)),
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
