//! How the kit is printed: which file on which paper, how many sheets, how the printer turns them, and how they are folded or cut.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::since::{PrintTold, Since};
use crate::formats::Duplex;
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
        Column::must("file", "file", Role::Name),
        Column::must("paper", "paper", Role::Body),
        Column::must("pages", "pages", Role::Number),
        Column::must("copies", "how many", Role::Body),
        Column::must("duplex", "sides", Role::Body),
        Column::must("fold", "then", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What is done with each format of paper, in words.
const FOLDS: [(&str, &str); 9] = [
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
    // Files of many holders that are printed alike are one line.
    let mut lines: Vec<(&PrintTold, usize)> = Vec::new();
    for print in &since.prints {
        let is_like = |(other, _): &&mut (&PrintTold, usize)| {
            (&other.paper, &other.duplex, &other.format, other.pages, &other.document)
                == (&print.paper, &print.duplex, &print.format, print.pages, &print.document)
        };
        match lines.iter_mut().find(is_like) {
            Some((_, files)) => *files += 1,
            None => lines.push((print, 1)),
        }
    }
    let rows = lines.into_iter().map(|(print, files)| row(print, files)).collect();
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

fn row(print: &PrintTold, files: usize) -> Row {
    let cell = |key, words: String| FILES.cell(key, Text::own(words));
    let fold = FOLDS.iter().find(|(format, _)| *format == print.format).map_or("as it is", |(_, words)| words);
    let name = if files == 1 {
        print.file.clone()
    } else {
        format!("{} and {} more of {}", print.file, files - 1, print.document)
    };
    let copies = match (files, print.copies) {
        (1, 0) => "as many as you give out".to_owned(),
        (1, count) => format!("once: {}", counted(count, "copy", "copies")),
        (files, _) => format!("each once: {}", plural(files, "file")),
    };
    let cells = vec![
        cell("file", name),
        cell("paper", print.paper.clone()),
        cell("pages", print.pages.to_string()),
        cell("copies", copies),
        cell("duplex", sides(print.duplex).to_owned()),
        cell("fold", fold.to_owned()),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
