//! What is said right after an exercise, in three columns.

use crate::audience::View;
use crate::compose::block::{Block, FieldBlock, FieldLine, FormBlock, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::ground::Audience;
use crate::plan::{Each, Exercise, FieldRoom};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "hot-wash-sheet",
    title: "Hot-wash sheet",
    about: "three columns for what is said right after an exercise: what went well, what did not, who changes what by when",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["hot-wash"],
    tables: &[],
    compose: Compose::Exercise(compose),
};

/// Writing lines of a column, as many as a page on its side has room for under its head.
const LINES: u16 = 18;

fn compose(_: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let lines = vec![
        line(vec![field(1, "Site", 4, 1), field(2, "Led by", 4, 1), field(3, "Date and time", 4, 1)]),
        line(vec![
            field(4, "What went well", 4, LINES),
            field(5, "What did not", 4, LINES),
            field(6, "What is changed, by whom, by when", 4, LINES),
        ]),
    ];
    let title = Text::plain(format!("Hot wash: {}", exercise.name.value), exercise.name.span);
    vec![Section { key: "hot-wash", title, blocks: vec![Block::Form(FormBlock { lines })] }]
}

/// A field over the whole width.
pub(super) fn asked(number: u16, label: &str, lines: u16) -> FieldBlock {
    field(number, label, 12, lines)
}

/// A field with lines to write on.
pub(super) fn field(number: u16, label: &str, share: u8, lines: u16) -> FieldBlock {
    let room = FieldRoom::lines(lines);
    let number = Some(number.to_string());
    FieldBlock {
        number,
        label: Text::own(label),
        help: None,
        share,
        room,
        filled: None,
        ticked: Vec::new(),
        cells: Vec::new(),
    }
}

/// Fields side by side.
pub(super) const fn line(fields: Vec<FieldBlock>) -> FieldLine {
    FieldLine { title: None, begins_page: false, is_added: false, fields }
}
