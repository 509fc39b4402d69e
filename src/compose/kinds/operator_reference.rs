//! What an operator looks up: words on the air, gateways, what to do on arrival and on leaving, what to carry, and what can hurt.

use super::channel_card::PROWORDS;
use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text, WordEntry, WordList};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Span};
use crate::plan::{Channel, Each, Gateway, Route, subject};
use crate::reckon::is_old;
use crate::tables::Tables;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "operator-reference",
    title: "Operator's reference",
    about: "letters, figures, prowords, precedence, identification and what not to say; gateways; lists for arrival, leaving and the bag; usual cautions",
    layout: "fold-8",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["voice", "digital", "arrive", "bag", "safety"],
    tables: &[&GATEWAYS],
    compose: Compose::View(compose),
};

const GATEWAYS: TableKind = TableKind {
    key: "quick-start",
    columns: &[
        Column::must("name", "gateway", Role::Name),
        Column::must("hear", "dial", Role::Hear),
        Column::must("call", "connect to", Role::Call),
        Column::must("path", "path", Role::Body),
        Column::must("state", "", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["name"],
        right: &["hear"],
        below: &[(&["call", "path"], &[]), (&["state"], &[])],
        above: (&[], &[]),
        like: None,
    },
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

/// Common practice, no source.
const ARRIVE: [&str; 9] = [
    "Sign in at the desk; say who you are, for whom, until when.",
    "Ask for whoever the site sheet names; ask about each UNKNOWN.",
    "See the room, the jack, the outlet, the way out.",
    "Ask what may be sent where, before the first transmission.",
    "Antenna first, then power, then radio; low power first.",
    "Compare edition and code with net control.",
    "Check in: tactical call, your call sign, your post.",
    "Begin the log; time of arrival is its first line.",
    "Tell the switchboard where you are. Put up the signs.",
];
const LEAVE: [&str; 7] = [
    "Hand over by the handover sheet, both stay for some minutes.",
    "No relief: tell net control before you go, not after.",
    "Check out: tactical call, time.",
    "Power off, radio off, antenna off; leave the site's own as it was.",
    "Return keys and badge. Take down the signs.",
    "Close the log, sign it, give it to who collects it.",
    "Write down what was new about the site, for the re-check sheet.",
];
const BAG: [&str; 9] = [
    "identification, this plan of the right edition",
    "radios of your list, programmed from this edition, tried",
    "batteries charged, day of charging written on each",
    "antenna, feed line, and the adapter that the site sheet names",
    "power supply, cable with a fuse at the source",
    "headset; something to write on and two pens",
    "message forms and log for the whole shift, and one shift more",
    "light, watch that shows UTC, food, water, medicine",
    "vest, warm and dry clothes; spare fuses",
];
const SAFETY: [&str; 8] = [
    "Antennas: keep people away as far as your own exposure evaluation says; it is the licensee's to make.",
    "Power lines: an antenna or mast that can fall on one is not put up. Nobody touches it while it touches one.",
    "Batteries: a fuse at the battery, poles covered, air around what is charged.",
    "Generator: outdoors only, exhaust away from openings. Its maker's instructions count.",
    "Thunder: stop, disconnect only if it is still far, stay away from the antenna.",
    "Medical equipment: nothing is sent nearer than the site's clinical engineering allows.",
    "Roofs, towers, mains: only who is licensed and asked to.",
    "Tired is unsafe: say so and be relieved.",
];

fn compose(view: &View<'_>) -> Vec<Section> {
    vec![voice(view), digital(view), arrive(), bag(view), safety()]
}

fn say(text: Text, role: Role) -> Block {
    Block::Paragraph(Paragraph { text, role })
}

fn heading(words: &str) -> Block {
    Block::Heading(Text::own(words))
}

fn practice() -> Block {
    say(Text::own("Common practice, no source."), Role::Small)
}

fn entry(word: &str, meaning: &str) -> WordEntry {
    WordEntry { word: Text::own(word), meaning: Text::own(meaning) }
}

fn lines(all: &[&str]) -> impl Iterator<Item = Block> {
    all.iter().map(|line| say(Text::own(format!("\u{2013} {line}")), Role::Body)).collect::<Vec<_>>().into_iter()
}

fn voice(view: &View<'_>) -> Section {
    let profile = view.profile();
    let spelling = &Tables::built_in().spelling;
    let letters: Vec<WordEntry> = spelling.letters().map(|(c, word)| entry(&c.to_string(), word)).collect();
    let mut columns: Vec<Vec<WordEntry>> = letters.chunks(13).map(<[WordEntry]>::to_vec).collect();
    columns.push(spelling.figures().map(|(c, word)| entry(&c.to_string(), word)).collect());
    let mut blocks = vec![Block::WordList(WordList { columns })];
    let words = PROWORDS.iter().map(|(word, meaning)| entry(word, meaning)).collect();
    blocks.extend([heading("Prowords"), Block::WordList(WordList { columns: vec![words] })]);
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
    blocks.push(heading("Not on the air"));
    if !profile.forbidden.is_empty() {
        let words = format!("\u{2013} as a name or in an exercise: {}", profile.forbidden.join(", "));
        blocks.push(say(Text::own(words), Role::Body));
    }
    blocks.extend(lines(&NOT_SAID));
    blocks.push(practice());
    Section { key: "voice", title: Text::own("Voice"), blocks }
}

/// Gateways by name, each with what to try next.
fn digital(view: &View<'_>) -> Section {
    let plan = view.plan();
    let all: Vec<&Gateway> = plan.gateways.iter().collect();
    let row = |(place, gateway): (usize, &&Gateway)| {
        let (mut path, span) = (Vec::new(), gateway.span);
        path.extend(gateway.via.as_ref().map(|via| format!("through {}", via.value)));
        path.push(gateway.speed.map_or_else(|| "speed UNKNOWN".to_owned(), |speed| speed.value.to_string()));
        let on = |channel: &&Channel| matches!(&channel.route, Route::Gateway(id) if *id.value == gateway.id.value);
        path.extend(plan.channels.iter().find(on).map(|channel| format!("channel {}", channel.name.value)));
        let mut state = vec![tried(gateway, view)];
        if gateway.needs_internet.value {
            state.push("of no use without the internet".to_owned());
        }
        let next = all.get(place + 1).or_else(|| all.first()).filter(|next| next.id.value != gateway.id.value);
        state.extend(next.map(|next| format!("no answer: try {}", next.name.value)));
        let dial = GATEWAYS.cell("hear", Text::plain(gateway.frequency.value.to_mhz(), gateway.frequency.span));
        let cells = vec![
            GATEWAYS.cell("name", Text::plain(gateway.name.as_str(), span)),
            dial,
            GATEWAYS.cell("call", Text::plain(gateway.call.to_string(), span)),
            GATEWAYS.cell("path", Text::plain(path.join(", "), span)),
            GATEWAYS.cell("state", Text::plain(state.join("; "), span)),
        ];
        Row { label: String::new(), record: Some(subject(*gateway)), span, cells }
    };
    let rows = all.iter().enumerate().map(row).collect();
    let blocks = vec![
        GATEWAYS.of(rows, "The plan has no gateway."),
        say(
            Text::own("Dial in MHz. Listen first; wait for the channel to be quiet; two tries, then the next."),
            Role::Body,
        ),
    ];
    Section { key: "digital", title: Text::own("Digital quick start"), blocks }
}

fn tried(gateway: &Gateway, view: &View<'_>) -> String {
    let issued = view.plan().edition.as_ref().map(|edition| edition.issued.value);
    match (&gateway.verified, issued) {
        (Some(seen), Some(issued)) if is_old(seen.on.value, issued) => {
            format!("last tried {}, long ago", seen.on.value)
        }
        (Some(seen), _) => format!("last tried {}", seen.on.value),
        (None, _) => "UNKNOWN whether it works: nobody tried".to_owned(),
    }
}

fn arrive() -> Section {
    let mut blocks: Vec<Block> = lines(&ARRIVE).collect();
    blocks.push(heading("On leaving"));
    blocks.extend(lines(&LEAVE));
    blocks.push(practice());
    Section { key: "arrive", title: Text::own("On arrival"), blocks }
}

fn bag(view: &View<'_>) -> Section {
    let mut blocks: Vec<Block> = lines(&BAG).collect();
    blocks.push(practice());
    let radios: Vec<&str> = view.plan().radios.iter().map(|radio| radio.name.as_str()).collect();
    if !radios.is_empty() {
        blocks.push(heading("Radios of the plan"));
        blocks.push(say(
            Text::own(format!("{}. How each is set is in its maker's booklet: bring it.", radios.join(", "))),
            Role::Body,
        ));
    }
    Section { key: "bag", title: Text::own("What to bring"), blocks }
}

fn safety() -> Section {
    let mut blocks: Vec<Block> = lines(&SAFETY).collect();
    let words = "Usual cautions. Local codes, the site's own staff and licensed practice come before this card.";
    blocks.push(say(Text::strong(words, Span::NOWHERE), Role::Body));
    Section { key: "safety", title: Text::own("What can hurt"), blocks }
}
