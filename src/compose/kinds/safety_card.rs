//! What can hurt: the usual cautions, behind local codes, the site's own staff and licensed practice.

use crate::audience::View;
use crate::compose::block::{Block, Paragraph, Role, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::compose::list_words::lines;
use crate::ground::{Audience, Span};
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "safety-card",
    title: "Safety card",
    about: "what can hurt: antennas, power lines, batteries, generators, lightning, medical equipment; defers to local codes and to the staff of the site",
    layout: "fold-8",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["safety"],
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

fn compose(_: &View<'_>) -> Vec<Section> {
    vec![safety()]
}

/// The section.
pub(super) fn safety() -> Section {
    let mut blocks: Vec<Block> = lines(&SAFETY).collect();
    let words = "Usual cautions. Local codes, the site's own staff and licensed practice come before this card.";
    blocks.push(Block::Paragraph(Paragraph { text: Text::strong(words, Span::NOWHERE), role: Role::Body }));
    Section { key: "safety", title: Text::own("What can hurt"), blocks }
}
