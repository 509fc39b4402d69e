//! What players tell after an exercise.

use super::hot_wash_sheet::{asked, field, line};
use crate::audience::View;
use crate::compose::block::{Block, FormBlock, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::ground::Audience;
use crate::plan::{Each, Exercise};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "feedback-sheet",
    title: "Feedback sheet",
    about: "what players write after an exercise: what went well, what did not, equipment, where a paper was not clear",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["feedback"],
    tables: &[],
    compose: Compose::Exercise(compose),
};

fn compose(_: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let one = |field| line(vec![field]);
    let lines = vec![
        line(vec![field(1, "Post or site", 5, 1), field(2, "Name or call sign, if you like", 7, 1)]),
        one(asked(3, "What went well", 5)),
        one(asked(4, "What did not", 5)),
        one(asked(5, "Equipment: what was missing, what failed", 5)),
        one(asked(6, "Paper: which sheet was not clear, and where", 5)),
        one(asked(7, "What one thing should be changed first", 5)),
    ];
    let title = Text::plain(format!("Feedback: {}", exercise.name.value), exercise.name.span);
    vec![Section { key: "feedback", title, blocks: vec![Block::Form(FormBlock { lines })] }]
}
