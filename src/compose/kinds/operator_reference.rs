//! What an operator looks up: words on the air, gateways, what to do on arrival and on leaving, what to carry, and what can hurt.

use super::arrival_list::{SILENT_BY_CARD, arrive, leave};
use super::equipment_list::bag;
use super::quick_start::{GATEWAYS, digital};
use super::safety_card::safety;
use crate::audience::View;
use crate::compose::block::{Block, Role, Section, Text, WordEntry, WordList};
use crate::compose::kind::{Compose, Kind};
use crate::compose::list_words::{heading, lines, practice, say};
use crate::compose::prowords::{MESSAGE_PROWORDS, MESSAGE_PROWORDS_SOURCE, PROWORDS};
use crate::ground::Audience;
use crate::plan::Each;
use crate::tables::Tables;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "operator-reference",
    title: "Operator's reference",
    about: "letters, figures, prowords, precedence, identification and what not to say; gateways; lists for arrival, leaving and the bag; usual cautions",
    layout: "fold-8",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["voice", "digital", "unsaid", "arrive", "leave", "bag", "safety"],
    tables: &[&GATEWAYS],
    compose: Compose::View(compose),
};

/// Precedence words with what they mean where the traffic system of the US has them; from memory of its published methods. Any other
/// word of a profile stands without a meaning.
const PRECEDENCE: [(&str, &str); 4] = [
    ("Emergency", "life or death, nothing before it; always spelled out"),
    ("Priority", "urgent with a time limit, or official"),
    ("Welfare", "how somebody is who is in the area"),
    ("Routine", "everything else; most of it waits"),
];

/// Common practice, no source.
const NOT_SAID: [&str; 4] = [
    "names, ages or conditions of patients, unless the agency asks for it in writing",
    "why somebody is not at home, who is dead, what is unguarded",
    "guesses, news, jokes; what you have not been asked to pass",
    "\u{201c}emergency\u{201d} for anything that is none",
];

fn compose(view: &View<'_>) -> Vec<Section> {
    vec![voice(view), digital(view), unsaid(view), arrive(&SILENT_BY_CARD, Vec::new()), leave(), bag(), safety()]
}

fn entry(word: &str, meaning: &str) -> WordEntry {
    WordEntry { word: Text::own(word), meaning: Text::own(meaning) }
}

fn voice(view: &View<'_>) -> Section {
    let profile = view.profile();
    let spelling = &Tables::built_in().spelling;
    let letters: Vec<WordEntry> = spelling.letters().map(|(c, word)| entry(&c.to_string(), word)).collect();
    let mut columns: Vec<Vec<WordEntry>> = letters.chunks(13).map(<[WordEntry]>::to_vec).collect();
    columns.push(spelling.figures().map(|(c, word)| entry(&c.to_string(), word)).collect());
    let mut blocks = vec![Block::WordList(WordList { columns })];
    let list = |words: &[(&str, &str)]| {
        let words = words.iter().map(|(word, meaning)| entry(word, meaning)).collect();
        Block::WordList(WordList { columns: vec![words] })
    };
    blocks.extend([heading("Prowords"), list(&PROWORDS), heading("Passing messages"), list(&MESSAGE_PROWORDS)]);
    blocks.push(say(Text::own(MESSAGE_PROWORDS_SOURCE), Role::Small));
    if !profile.precedence.is_empty() {
        let meaning = |word: &String| {
            let known = PRECEDENCE.iter().find(|(known, _)| known == word).map(|(_, meaning)| *meaning);
            entry(word, known.unwrap_or("as your traffic system defines it"))
        };
        let words = profile.precedence.iter().map(meaning).collect();
        blocks.push(heading("Precedence, highest first"));
        blocks.push(Block::WordList(WordList { columns: vec![words] }));
        blocks.push(say(
            Text::own("Order: the profile. Meanings: from memory of the traffic system's methods."),
            Role::Small,
        ));
    }
    blocks.push(heading("Who you are"));
    blocks.push(say(Text::own(profile.identification.clone()), Role::Body));
    Section { key: "voice", title: Text::own("Voice"), blocks }
}

fn unsaid(view: &View<'_>) -> Section {
    let mut blocks = Vec::new();
    let profile = view.profile();
    if !profile.forbidden.is_empty() {
        let words = format!("\u{2013} as a name or in an exercise: {}", profile.forbidden.join(", "));
        blocks.push(say(Text::own(words), Role::Body));
    }
    blocks.extend(lines(&NOT_SAID));
    blocks.push(practice());
    Section { key: "unsaid", title: Text::own("Not on the air"), blocks }
}
