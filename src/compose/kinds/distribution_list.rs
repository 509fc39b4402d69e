//! Who holds which copy: to be signed when copies are given out.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::people::copy_holder;
use crate::compose::since::{Fate, KitTold, PaperTold, Since};
use crate::ground::{Audience, Span};
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "distribution-list",
    title: "Distribution list",
    about: "every copy with its number, holder, readers and code, to be signed when it is given out; the papers that are the same for everybody",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["copies", "sets", "papers"],
    tables: &[&COPIES, &SETS, &SHARED],
    compose: Compose::Edition(compose),
};

/// Copies with holders.
const COPIES: TableKind = TableKind {
    key: "copies",
    columns: &[
        Column::must("copy", "copy", Role::Number),
        Column::must("holder", "holder", Role::Name),
        Column::must("own", "own code", Role::Call),
        Column::must("fate", "old copy", Role::Body),
        Column::must("issued", "given out on", Role::Body),
        Column::must("signed", "received by", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Sets of papers.
const SETS: TableKind = TableKind {
    key: "sets",
    columns: &[
        Column::must("copy", "set", Role::Number),
        Column::must("holder", "holder", Role::Name),
        Column::must("fate", "old set", Role::Body),
        Column::must("issued", "given out on", Role::Body),
        Column::must("signed", "received by", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Papers without holders.
const SHARED: TableKind = TableKind {
    key: "shared-papers",
    columns: &[
        Column::must("paper", "paper", Role::Name),
        Column::must("audience", "for", Role::Body),
        Column::must("code", "code", Role::Call),
        Column::must("issued", "copies given out", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Something to write on.
const TO_WRITE: &str = "________________";

fn compose(view: &View<'_>, since: &Since) -> Vec<Section> {
    let papers: Vec<&PaperTold> = since.papers_for(view).into_iter().filter(|paper| paper.new.is_some()).collect();
    let (shared, personal): (Vec<&PaperTold>, Vec<&PaperTold>) =
        papers.into_iter().partition(|paper| paper.copies.is_empty());
    let mut blocks = Vec::new();
    for paper in personal {
        let code = paper.new.clone().unwrap_or_default();
        blocks.push(Block::Heading(Text::own(format!("{}: {} copy, code {code}", paper.document, paper.audience))));
        blocks.push(COPIES.of(copies(paper, view), "Nobody has a copy."));
    }
    if blocks.is_empty() {
        let what = Text::own("This plan gives nobody a copy of their own.");
        blocks.push(Block::Paragraph(Paragraph { text: what, role: Role::Body }));
    }
    let rows = shared.into_iter().map(|paper| {
        let cell = |key, words: String| SHARED.cell(key, Text::own(words));
        let cells = vec![
            cell("paper", paper.document.clone()),
            cell("audience", paper.audience.to_string()),
            cell("code", paper.new.clone().unwrap_or_default()),
            cell("issued", TO_WRITE.to_owned()),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    });
    let shared = vec![SHARED.of(rows.collect(), "There is none.")];
    let kits = since.kits_for(view).into_iter().flat_map(|kit| {
        let heading = Block::Heading(Text::own(format!("{}: {} copy, codes by its cover", kit.kit, kit.audience)));
        [heading, SETS.of(sets(kit, view), "Nobody has a set.")]
    });
    let kits: Vec<Block> = kits.collect();
    let kits = (!kits.is_empty()).then(|| Section { key: "sets", title: Text::own("Sets of papers"), blocks: kits });
    let copies = Section { key: "copies", title: Text::own("Copies with holders"), blocks };
    let shared = Section { key: "papers", title: Text::own("The same for everybody"), blocks: shared };
    [Some(copies), kits, Some(shared)].into_iter().flatten().collect()
}

fn sets(kit: &KitTold, view: &View<'_>) -> Vec<Row> {
    let given = kit.sets.iter().filter(|set| set.fate != Fate::TakeBack);
    let row = given.map(|set| {
        let cell = |key, words: String| SETS.cell(key, Text::own(words));
        let old = match set.fate {
            Fate::Replace => format!("destroy its cover, {}", set.papers.join(", ")),
            Fate::New => "none".to_owned(),
            Fate::Valid | Fate::TakeBack => "stays valid".to_owned(),
        };
        let holder = set.holder.as_ref().map_or_else(|| "everybody".to_owned(), |id| copy_holder(id, view));
        let cells = vec![
            cell("copy", set.number.map_or_else(|| "all".to_owned(), |number| number.to_string())),
            cell("holder", holder),
            cell("fate", old),
            cell("issued", TO_WRITE.to_owned()),
            cell("signed", TO_WRITE.repeat(2)),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    });
    row.collect()
}

fn copies(paper: &PaperTold, view: &View<'_>) -> Vec<Row> {
    let given = paper.copies.iter().filter(|copy| copy.fate != Fate::TakeBack);
    let row = given.map(|copy| {
        let cell = |key, words: String| COPIES.cell(key, Text::own(words));
        let old = match copy.fate {
            Fate::Replace => "destroy",
            Fate::New => "none",
            Fate::Valid | Fate::TakeBack => "stays valid",
        };
        let cells = vec![
            cell("copy", copy.number.to_string()),
            cell("holder", copy_holder(&copy.holder, view)),
            cell("own", copy.own.clone()),
            cell("fate", old.to_owned()),
            cell("issued", TO_WRITE.to_owned()),
            cell("signed", TO_WRITE.repeat(2)),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    });
    row.collect()
}
