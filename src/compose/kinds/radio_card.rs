//! How each model of radio is set, as the team described it in the plan; room to write where it did not.

use crate::audience::{Holder, View};
use crate::compose::block::{Block, Column, Role, Row, Section, Text, WordList};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{body, small};
use crate::ground::Audience;
use crate::plan::{Each, Radio, subject};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "radio-card",
    title: "Radio card",
    about: "for each model of radio, or for those of each member: what it covers, its power, and how it is set, step by step as the team described it, with room to write where it did not",
    layout: "fold-8",
    each: &[Each::Once, Each::Member],
    widest: Audience::Public,
    sections: &["radio", "no-radio"],
    tables: &[&ASKED_TABLE],
    compose: Compose::View(compose),
};

/// Where it is written down.
const ASKED_TABLE: TableKind = TableKind {
    key: "radio-keys",
    columns: &[Column::must("what", "to set", Role::Body), Column::must("keys", "keys, menu", Role::Body)],
    set: UsualSet::Rows { left: &["what"], right: &["keys"], below: &[], above: (&[], &[]), like: None },
};

/// What one must be able to set by hand, and words of which a step that tells of it has one of each group (common practice, no source).
const ASKED: [(&str, &[&[&str]]); 9] = [
    ("Frequency", &[&["freq", "vfo"]]),
    ("Shift, or send", &[&["shift", "offset", "split"]]),
    ("Tone to send", &[&["tone", "ctcss", "dcs"], &["send", "transmit", "tx", "encod"]]),
    ("Tone to hear", &[&["tone", "ctcss", "dcs"], &["hear", "receive", "rx", "decod", "squelch"]]),
    ("Narrow, wide", &[&["narrow", "wide", "width", "deviation"]]),
    ("Power", &[&["power"], &["low", "high", "level", "watt", "output"]]),
    ("Hear the input", &[&["reverse", "input"]]),
    ("Keys locked", &[&["lock"]]),
    ("All as new", &[&["reset", "as new"]]),
];
const WRITE: &str = "____________________________";
/// Above them: one warning, so that no line alone is carried on to another panel.
const UNKNOWN: &str = "How it is set is UNKNOWN: nobody of the team wrote it down. Try it before you need it.";
/// The same where some of it is written down.
const REST_UNKNOWN: &str = "UNKNOWN is what these steps do not tell. Try it before you need it:";

fn compose(view: &View<'_>) -> Vec<Section> {
    let radios: Vec<&Radio> = match view.holder() {
        Some(Holder::Member(member)) => member.radios.iter().filter_map(|id| view.plan().radios.get(id)).collect(),
        _ => view.plan().radios.iter().collect(),
    };
    if radios.is_empty() {
        let none = vec![body(Text::own("The plan has no radio for this copy."))];
        return vec![Section { key: "no-radio", title: Text::own("Radio card"), blocks: none }];
    }
    radios.into_iter().map(section).collect()
}

fn section(radio: &Radio) -> Section {
    let covers: Vec<String> = radio.covers.value.iter().map(|stretch| stretch.value.to_string()).collect();
    let modes: Vec<String> = radio.modes.value.iter().map(|mode| mode.value.to_string()).collect();
    let word = |name: &str, said: String| (Text::strong(name, radio.span), Text::plain(said, radio.span));
    let facts = [
        word("Sends on", covers.join("; ")),
        word("Modes", format!("{}; {} at most", modes.join(", "), radio.power.value)),
    ];
    let mut blocks = vec![Block::WordList(WordList::listed(facts))];
    let steps = (1..).zip(&radio.steps);
    let steps = steps.map(|(number, step)| (Text::own(number.to_string()), Text::plain(step.as_str(), step.span)));
    if !radio.steps.is_empty() {
        blocks.push(Block::WordList(WordList::listed(steps)));
        blocks.push(small("As the team described it; the maker's booklet counts."));
    }
    let left: Vec<Row> =
        ASKED.iter().filter(|(_, words)| !is_told(radio, words)).map(|(what, _)| row(radio, what)).collect();
    if !left.is_empty() {
        let words = if radio.steps.is_empty() { UNKNOWN } else { REST_UNKNOWN };
        blocks.push(body(Text::strong(words, radio.span)));
        blocks.push(ASKED_TABLE.of(left, ""));
    }
    let title = Text::plain(radio.name.as_str(), radio.name.span);
    Section { key: "radio", title, blocks }
}

/// Whether a step has a word of each group.
fn is_told(radio: &Radio, groups: &[&[&str]]) -> bool {
    let has = |step: &str, group: &[&str]| group.iter().any(|word| step.contains(word));
    let mut steps = radio.steps.iter().map(|step| step.as_str().to_lowercase());
    steps.any(|step| groups.iter().all(|group| has(&step, group)))
}

/// Room to write how something is set.
fn row(radio: &Radio, what: &str) -> Row {
    let cells = vec![ASKED_TABLE.cell("what", Text::own(what)), ASKED_TABLE.cell("keys", Text::own(WRITE))];
    Row { label: String::new(), record: Some(subject(radio)), span: radio.span, cells }
}
