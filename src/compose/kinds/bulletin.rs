//! What changed, to be read out on the air: numbered lines as they are written and as they are said, and codes to compare.

use crate::audience::View;
use crate::compose::block::{Block, Cell, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::bulletin::{Bulletin, MOST_MINUTES, bulletin};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::since::Since;
use crate::compose::spoken::{spelled, spoken};
use crate::ground::{Audience, Span, plural};
use crate::plan::{Each, WORDS_A_MINUTE};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "bulletin",
    title: "Bulletin",
    about: "the changes since the edition issued before that anybody may know, to be read out on the air: numbered lines as written and as said, codes, words and minutes",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["pass", "lines", "codes"],
    tables: &[&LINES, &CODES],
    compose: Compose::Edition(compose),
};

/// The lines.
const LINES: TableKind = TableKind {
    key: "bulletin-lines",
    columns: &[
        Column::must("line", "line", Role::Number),
        Column::must("written", "write", Role::Body),
        Column::must("said", "say", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The codes.
const CODES: TableKind = TableKind {
    key: "bulletin-codes",
    columns: &[
        Column::must("code-line", "line", Role::Number),
        Column::must("sheet", "sheet", Role::Body),
        Column::must("was", "old code", Role::Call),
        Column::must("is", "new code", Role::Call),
        Column::must("said", "say", Role::Body),
    ],
    set: UsualSet::Grid,
};

fn say(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

fn row(cells: Vec<(&'static str, Cell)>) -> Row {
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

fn compose(view: &View<'_>, since: &Since) -> Vec<Section> {
    let Some(bulletin) = bulletin(view, since) else { return Vec::new() };
    let mut sections = vec![Section { key: "pass", title: Text::own("Bulletin"), blocks: pass(&bulletin, view) }];
    if !bulletin.is_too_large() {
        sections.push(Section { key: "lines", title: Text::own("Lines"), blocks: vec![lines(&bulletin)] });
    }
    if !bulletin.codes.is_empty() {
        sections.push(Section { key: "codes", title: Text::own("Codes"), blocks: codes(&bulletin) });
    }
    sections
}

fn pass(bulletin: &Bulletin, view: &View<'_>) -> Vec<Block> {
    let spelling = &view.tables().spelling;
    let (count, words) = (bulletin.lines.len() + bulletin.codes.len(), bulletin.words());
    let size = format!(
        "{}, {}, about {} at {WORDS_A_MINUTE} words a minute with every line read back (common practice, no source).",
        plural(count, "line"),
        plural(words, "word"),
        plural(bulletin.minutes(), "minute")
    );
    let mut blocks = Vec::new();
    if bulletin.is_draft {
        blocks.push(say(Text::strong("This edition is not issued: nothing of it is for the air yet.", Span::NOWHERE)));
    }
    blocks.push(say(Text::strong("Serial ", Span::NOWHERE).then_text(serial(bulletin)).then(". ").then(size)));
    if bulletin.is_too_large() {
        let most = format!("Too large to be read out: a channel would be busy for more than {MOST_MINUTES} minutes. ");
        let text = Text::strong(most, Span::NOWHERE);
        blocks.push(say(text.then(
            "Give out the new sheets, or send the lines by data: fieldsheaf bulletin --text. Read out the codes alone.",
        )));
        return blocks;
    }
    let from = bulletin
        .of
        .map_or_else(String::new, |(number, _)| format!("From edition {} ", spoken(&number.to_string(), spelling)));
    let opening = format!(
        "Say first: \"Bulletin. Plan {}, I spell {}. {from}to edition ",
        bulletin.plan,
        spelled(&bulletin.plan, spelling)
    );
    let opening = Text::own(opening)
        .then_text(Text::of_edition(spoken(&bulletin.makes.0.to_string(), spelling), Span::NOWHERE))
        .then(", which holds from ")
        .then_text(Text::of_edition(spoken(&bulletin.valid_from.to_string(), spelling), Span::NOWHERE))
        .then(format!(". {} lines. Ready to copy?\"", spoken(&count.to_string(), spelling)));
    blocks.push(say(opening));
    blocks.push(say(Text::own(
        "Read one line at the speed of writing: \"Line\", its number, what stands under \"say\". A station that you call reads it back whole, \
         number and values; say \"Correct\", or \"Wrong\" and the line once more. At the end ask every station for the number of lines that it has.",
    )));
    blocks.push(say(Text::own(
        "Letters as in Appendix 14 of the ITU Radio Regulations, figures as in ICAO Annex 10, volume II (from memory); a comma is a short rest.",
    )));
    blocks
}

fn serial(bulletin: &Bulletin) -> Text {
    Text::own(format!("{} ", bulletin.plan)).then_text(Text::of_edition(bulletin.makes.0.to_string(), Span::NOWHERE))
}

fn lines(bulletin: &Bulletin) -> Block {
    let cell = |key, words: String| LINES.cell(key, Text::own(words));
    let rows = (1..).zip(&bulletin.lines).map(|(number, line): (usize, _)| {
        row(vec![
            cell("line", number.to_string()),
            cell("written", line.written.clone()),
            cell("said", line.spoken.clone()),
        ])
    });
    LINES.of(rows.collect(), "None.")
}

fn codes(bulletin: &Bulletin) -> Vec<Block> {
    let cell = |key, words: String| CODES.cell(key, Text::own(words));
    let code = |code: &Option<String>| code.clone().unwrap_or_else(|| "none".to_owned());
    let first = if bulletin.is_too_large() { 1 } else { bulletin.lines.len() + 1 };
    let rows = (first..).zip(&bulletin.codes).map(|(number, told)| {
        row(vec![
            cell("code-line", number.to_string()),
            cell("sheet", told.document.clone()),
            cell("was", code(&told.old)),
            cell("is", code(&told.new)),
            cell("said", told.spoken.clone()),
        ])
    });
    vec![
        CODES.of(rows.collect(), "None."),
        say(Text::own("A sheet that was corrected by pen bears the new code once all its lines are.")),
    ]
}
