//! The pocket card: a front, every channel, what to say, what to mind before transmitting, the nets, and how a row is set.

use crate::audience::View;
use crate::compose::block::{Block, Paragraph, Role, Section, Text, WordEntry, WordList};
use crate::compose::channel_table::{self, CHANNELS, DIAL};
use crate::compose::channel_words::in_order;
use crate::compose::front_words;
use crate::compose::kind::{Compose, Kind};
use crate::compose::net_words::{NETS, details};
use crate::compose::prowords::PROWORDS;
use crate::ground::{Audience, Lapse, Span};
use crate::plan::{Each, Plan, Route};
use crate::tables::Tables;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "channel-card",
    title: "Channel card",
    about: "every channel with all that is set by hand, the nets, spelling words, what to say, cautions",
    layout: "fold-8",
    each: &[Each::Once, Each::Member, Each::Place],
    widest: Audience::Public,
    sections: &["front", "channels", "dial", "say", "care", "nets", "set"],
    tables: &[&NETS, &CHANNELS, &DIAL],
    compose: Compose::View(compose),
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections = vec![front_words::section(view)];
    sections.extend(channel_table::sections(view));
    sections.push(saying(view));
    sections.push(care());
    sections.extend(details(view));
    sections.push(setting());
    sections
}

fn body(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

fn entry(word: impl Into<String>, meaning: impl Into<String>) -> WordEntry {
    WordEntry { word: Text::strong(word, Span::NOWHERE), meaning: Text::own(meaning) }
}

/// A list of entries one below the other.
fn listed(pairs: &[(&str, &str)]) -> Block {
    Block::WordList(WordList { columns: vec![pairs.iter().map(|(word, meaning)| entry(*word, *meaning)).collect()] })
}

/// How many letters stand below each other: figures are as many.
const LETTERS: usize = 10;

/// Signs that are said in call signs, frequencies and addresses; common practice, no source.
const SIGNS: [(&str, &str); 3] = [(".", "Decimal"), ("-", "Dash"), ("/", "Slash")];

fn saying(view: &View<'_>) -> Section {
    let spelling = &Tables::built_in().spelling;
    let said = |(c, word): (char, &str)| entry(c.to_string(), word);
    let mut letters: Vec<WordEntry> = spelling.letters().map(said).collect();
    letters.extend(SIGNS.map(|(sign, word)| entry(sign, word)));
    let mut columns: Vec<Vec<WordEntry>> = letters.chunks(LETTERS).map(<[WordEntry]>::to_vec).collect();
    columns.push(spelling.figures().map(said).collect());
    let mut blocks = vec![Block::WordList(WordList { columns }), listed(&PROWORDS)];
    let precedence = &view.profile().precedence;
    if !precedence.is_empty() {
        blocks.push(body(Text::own(format!("Precedence: {}.", precedence.join(", ")))));
    }
    blocks.push(body(Text::own(view.profile().control_operator.clone())));
    blocks.push(body(Text::own("Press, wait a second, speak; let go, listen.")));
    blocks.extend(time_outs(view.plan()).map(body));
    if view.holder().is_some() {
        let own = "Own code: this copy's; compare it with the coordinator.";
        blocks.push(body(Text::own(own)));
    }
    Section { key: "say", title: Text::own("What to say"), blocks }
}

/// After how long repeaters cut a speaker off: `CMD 1, CMD 2 cut off after 3 min; MED 1 after 4 min.`
fn time_outs(plan: &Plan) -> Option<Text> {
    let mut times: Vec<(Lapse, Vec<&str>)> = Vec::new();
    let mut span = Span::NOWHERE;
    for channel in in_order(plan) {
        let Route::Repeater(id) = &channel.route else { continue };
        let Some(time_out) = plan.repeaters.get(&id.value).and_then(|repeater| repeater.time_out) else { continue };
        span = time_out.span;
        match times.iter_mut().find(|(known, _)| *known == time_out.value) {
            Some((_, names)) => names.push(channel.name.as_str()),
            None => times.push((time_out.value, vec![channel.name.as_str()])),
        }
    }
    let words = |(place, (time, names)): (usize, &(Lapse, Vec<&str>))| {
        let verb = if place > 0 {
            ""
        } else if names.len() == 1 {
            " cuts off"
        } else {
            " cut off"
        };
        let names: Vec<String> = names.iter().map(|name| crate::compose::channel_words::tied(name)).collect();
        format!("{}{verb} after {time}", names.join(", "))
    };
    let all: Vec<String> = times.iter().enumerate().map(words).collect();
    (!all.is_empty()).then(|| Text::plain(format!("{}.", all.join("; ")), span))
}

/// Cautions. General practice, no source: they send the reader to those who decide, and claim nothing more.
const CARE: [(&str, &str); 5] = [
    ("People", "Keep them away from a transmitting antenna; stay within the exposure limits."),
    ("Power lines", "Never raise an antenna where it, its line or its mast could fall on one."),
    ("Batteries", "Fuse at the battery, cover the terminals, charge in fresh air."),
    ("Generators", "Outdoors only, away from windows."),
    ("Sites", "Its own staff decide whether you send."),
];

fn care() -> Section {
    let blocks = vec![listed(&CARE)];
    Section { key: "care", title: Text::own("Before you transmit"), blocks }
}

/// How what a row says becomes what the radio does.
const SETTING: [(&str, &str); 7] = [
    ("hear, send", "set both, also where they are the same"),
    ("\u{2212}600", "the shift in kHz, if the radio asks for it"),
    ("tone", "sent with your voice, in Hz, or a code: D023N is DCS 023 normal, I inverted"),
    ("hear tone", "off: you hear everybody; a figure: set it"),
    ("FM \u{b1}5", "the wide setting; FM \u{b1}2.5 the narrow one"),
    ("arrow", "where to go when nobody answers; a time before it is this row's own"),
    ("dial", "in kHz; LSB or USB is the side"),
];

fn setting() -> Section {
    Section { key: "set", title: Text::own("How to set a row"), blocks: vec![listed(&SETTING)] }
}
