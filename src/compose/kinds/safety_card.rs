//! What can hurt: the usual cautions, behind local codes, the site's own staff and licensed practice.

use crate::audience::View;
use crate::compose::block::{Block, Paragraph, Role, Section, Text, WordList};
use crate::compose::kind::{Compose, Kind};
use crate::compose::list_words::{lines, practice};
use crate::ground::{Audience, Span};
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "safety-card",
    title: "Safety card",
    about: "what can hurt: antennas, power lines, batteries, generators, lightning, medical equipment; what to do when somebody is hurt, with lines for the numbers there; defers to local codes and to the staff of the site",
    layout: "fold-4",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["safety", "hurt"],
    tables: &[],
    compose: Compose::View(compose),
};

/// Common practice, no source.
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

/// Common practice, no source.
const HURT: [&str; 6] = [
    "Look first: current, traffic, falling ice, smoke. Nobody helps by being the next one hurt.",
    "Somebody or something touches a power line: stay away, keep others away, call the utility.",
    "At a hospital or shelter call its own staff; elsewhere the emergency number, by phone if there is one.",
    "No phone: say \u{201c}break, emergency traffic\u{201d} on the net, then where, what happened, how many, who is with them.",
    "Help as far as you were trained to. Send somebody to the door to show the way.",
    "Then tell net control that you are off the air, and for how long.",
];

const ASKED: [&str; 5] = ["Emergency number", "Security, desk", "Address here", "Defibrillator", "Way out, meet at"];
const WRITE: &str = "____________________________";

fn compose(_: &View<'_>) -> Vec<Section> {
    vec![safety(), hurt()]
}

/// What to do first, and the lines that are filled in on arrival, as long as nobody needs them.
fn hurt() -> Section {
    let mut blocks: Vec<Block> = lines(&HURT).collect();
    blocks.push(Block::Heading(Text::own("Write this down on arrival")));
    let asked = ASKED.map(|what| (Text::own(what), Text::own(WRITE)));
    blocks.push(Block::WordList(WordList::listed(asked)));
    blocks.push(practice());
    Section { key: "hurt", title: Text::own("If somebody is hurt"), blocks }
}

/// The section.
pub(super) fn safety() -> Section {
    let mut blocks: Vec<Block> = lines(&SAFETY).collect();
    let words = "Usual cautions. Local codes, the site's own staff and licensed practice come before this card.";
    blocks.push(Block::Paragraph(Paragraph { text: Text::strong(words, Span::NOWHERE), role: Role::Body }));
    Section { key: "safety", title: Text::own("What can hurt"), blocks }
}
