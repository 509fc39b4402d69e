//! How the kit is printed: which file on which paper, how many sheets, how the printer turns them, and how they are folded or cut.

use crate::audience::View;
use crate::compose::block::{Block, Column, Folding, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::since::{PrintTold, Since};
use crate::formats::{Duplex, FORMATS};
use crate::ground::{Audience, Span, counted, plural};
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "printing-guide",
    title: "Printing guide",
    about: "which file, on which paper, how many sheets, how the printer turns them, and how they are folded or cut",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Coordinator,
    sections: &["files", "folding"],
    tables: &[&FILES],
    compose: Compose::Edition(compose),
};

/// Files to print.
const FILES: TableKind = TableKind {
    key: "files",
    columns: &[
        Column::must("file", "file", Role::Body),
        Column::must("paper", "paper", Role::Body),
        Column::must("pages", "pages", Role::Number),
        Column::must("copies", "how many", Role::Body),
        Column::must("duplex", "sides", Role::Body),
        Column::must("fold", "then", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The word for what is printed on paper of several formats.
pub(in crate::compose) const KIT: &str = "kit";

/// What is done with each format of paper, in words.
const FOLDS: [(&str, &str); 10] = [
    (KIT, "part it at its covers; fold or cut each paper as its own line says"),
    ("fold-8", "cut the slit, fold to eighths"),
    ("fold-4", "fold twice, to quarters"),
    ("card", "cut along the marks"),
    ("index", "cut along the marks"),
    ("half", "cut in half"),
    ("pad", "cut in half, glue at the top"),
    ("booklet", "stack, fold in the middle, staple"),
    ("wall", "hang as it is"),
    ("full", "punch at the left"),
];

fn compose(_: &View<'_>, since: &Since) -> Vec<Section> {
    // Files of many holders that are printed alike are one line; sets of a kit hold more papers or fewer.
    let mut lines: Vec<Vec<&PrintTold>> = Vec::new();
    for print in &since.prints {
        let is_like = |line: &&mut Vec<&PrintTold>| {
            line.first().is_some_and(|other| {
                (&other.paper, &other.duplex, &other.format, &other.document)
                    == (&print.paper, &print.duplex, &print.format, &print.document)
                    && (other.pages == print.pages || print.format == KIT)
            })
        };
        match lines.iter_mut().find(is_like) {
            Some(line) => line.push(print),
            None => lines.push(vec![print]),
        }
    }
    let rows = lines.iter().map(|line| row(line)).collect();
    let say = |words: &str| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Body });
    let folding = vec![
        say(
            "Print at 100 %, never \"fit to page\", and measure the 50 mm bar. Print one sheet of each kind, fold or cut it, and look before the rest is printed.",
        ),
        say(
            "Sides: \"flip on the long edge\" and \"flip on the short edge\" are the printer's own words; a wrong one sets every second page upside down.",
        ),
        say("Matt paper or matt laminate: a glossy sheet blinds under a headlamp."),
    ];
    let mut folding = folding;
    let folded = FORMATS.iter().filter(|format| since.prints.iter().any(|print| print.format == format.word()));
    for (format, gathering) in folded.filter_map(|format| Some((format, format.gathering()?))) {
        folding.push(Block::Heading(Text::own(format!("How to fold: {}", format.word()))));
        folding.push(Block::Folding(Folding { format: format.word(), words: Text::own(gathering.folding) }));
    }
    vec![
        Section { key: "files", title: Text::own("Files"), blocks: vec![FILES.of(rows, "There is no file.")] },
        Section { key: "folding", title: Text::own("Before you print all"), blocks: folding },
    ]
}

/// How the printer turns a sheet.
const fn sides(duplex: Duplex) -> &'static str {
    match duplex {
        Duplex::Simplex => "one side",
        Duplex::LongEdge => "both, flip on the long edge",
        Duplex::ShortEdge => "both, flip on the short edge",
    }
}

fn row(line: &[&PrintTold]) -> Row {
    let cell = |key, words: String| FILES.cell(key, Text::own(words));
    let Some((print, others)) = line.split_first() else {
        return Row { label: String::new(), record: None, span: Span::NOWHERE, cells: Vec::new() };
    };
    let fold = FOLDS.iter().find(|(format, _)| *format == print.format).map_or("as it is", |(_, words)| words);
    let name = if others.is_empty() {
        print.file.clone()
    } else {
        format!("{} and {} more of {}", print.file, others.len(), print.document)
    };
    let copies = match (others.is_empty(), print.copies) {
        (true, 0) => "as many as you give out".to_owned(),
        (true, count) => format!("once: {}", counted(count, "copy", "copies")),
        (false, _) => format!("each once: {}", plural(line.len(), "file")),
    };
    let pages = line.iter().map(|print| print.pages);
    let pages = match (pages.clone().min(), pages.max()) {
        (Some(0), _) | (None, _) | (_, None) => "see its cover".to_owned(),
        (Some(least), Some(most)) if least == most => least.to_string(),
        (Some(least), Some(most)) => format!("{least} to {most}"),
    };
    let cells = vec![
        cell("file", name),
        cell("paper", print.paper.clone()),
        cell("pages", pages),
        cell("copies", copies),
        cell("duplex", sides(print.duplex).to_owned()),
        cell("fold", fold.to_owned()),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
