//! What changed since the edition issued before: old and new values, papers to replace, and what to correct by hand until then.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::people::held_by;
use crate::compose::since::{ChangeWords, Corrections, Fate, KitTold, MOST_CORRECTIONS, PaperTold, Since};
use crate::ground::{Audience, Id, Span, plural};
use crate::plan::{Change, Danger, Each};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "change-sheet",
    title: "Change sheet",
    about: "what changed since the edition issued before, the most dangerous first; which papers to replace and whose, which stay valid; small changes as corrections by pen",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["changes", "papers", "pen"],
    tables: &[&CHANGES, &PAPERS, &PEN],
    compose: Compose::Edition(compose),
};

/// What is another than before.
const CHANGES: TableKind = TableKind {
    key: "changes",
    columns: &[
        Column::must("what", "what", Role::Name),
        Column::must("fact", "fact", Role::Body),
        Column::must("old", "was", Role::Body),
        Column::must("new", "is now", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What becomes of papers.
const PAPERS: TableKind = TableKind {
    key: "papers",
    columns: &[
        Column::must("paper", "paper", Role::Name),
        Column::must("fate", "do", Role::Body),
        Column::must("was", "old code", Role::Call),
        Column::must("code", "new code", Role::Call),
        Column::must("holders", "whose", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Corrections by hand.
const PEN: TableKind = TableKind {
    key: "pen",
    columns: &[
        Column::must("panel", "panel", Role::Number),
        Column::must("where", "where", Role::Name),
        Column::must("strike", "strike", Role::Body),
        Column::must("write", "write", Role::Body),
    ],
    set: UsualSet::Grid,
};

fn say(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

fn row(cells: Vec<(&'static str, crate::compose::block::Cell)>) -> Row {
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

fn compose(view: &View<'_>, since: &Since) -> Vec<Section> {
    let mut sections = vec![
        Section { key: "changes", title: Text::own("What changed"), blocks: changed(view, since) },
        Section { key: "papers", title: Text::own("Papers"), blocks: papers(view, since) },
    ];
    let pen = by_pen(view, since);
    if !pen.is_empty() {
        sections.push(Section { key: "pen", title: Text::own("Corrections by pen"), blocks: pen });
    }
    sections
}

fn changed(view: &View<'_>, since: &Since) -> Vec<Block> {
    let Some((number, day)) = since.before else {
        return vec![say(Text::own("No edition was issued before this one: every copy is new."))];
    };
    let mut blocks = vec![say(Text::strong(format!("Since edition {number}, issued {day}."), Span::NOWHERE))];
    if !since.is_told {
        let what = format!(
            "The plan of edition {number} is not at hand, so that its values cannot be told: ask the coordinator."
        );
        blocks.push(say(Text::own(what)));
        return blocks;
    }
    let (told, beside) = since.changes_for(view);
    for danger in Danger::ALL {
        let rows: Vec<Row> = told
            .iter()
            .filter(|change| change.danger == danger)
            .map(|change| change_row(change, view, since))
            .collect();
        if !rows.is_empty() {
            blocks.push(Block::Heading(Text::own(capital(danger.words()))));
            blocks.push(CHANGES.of(rows, ""));
        }
    }
    blocks.extend((told.is_empty() && beside == 0).then(|| say(Text::own("Nothing is another than before."))));
    blocks.extend((beside > 0).then(|| {
        let what = format!("{} not told on this copy: ask the coordinator.", plural(beside, "change"));
        say(Text::strong(what, Span::NOWHERE))
    }));
    blocks
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn change_row(change: &Change, view: &View<'_>, since: &Since) -> Row {
    let cell = |key, words: String| CHANGES.cell(key, Text::own(words));
    let ChangeWords { fact, old, new } = since.words(change, view);
    row(vec![cell("what", since.subject(change, view)), cell("fact", fact), cell("old", old), cell("new", new)])
}

fn papers(view: &View<'_>, since: &Since) -> Vec<Block> {
    let papers = since.papers_for(view);
    let (valid, others): (Vec<&PaperTold>, Vec<&PaperTold>) =
        papers.into_iter().partition(|paper| paper.fate == Fate::Valid);
    let rows = others.into_iter().map(|paper| paper_row(paper, view, since)).collect();
    let mut blocks = vec![PAPERS.of(rows, "No paper is to be replaced.")];
    if !valid.is_empty() {
        let words: Vec<String> =
            valid.iter().map(|paper| format!("{} {}", paper.document, paper.old.clone().unwrap_or_default())).collect();
        blocks.push(say(Text::strong("Still valid, with the codes that they have: ", Span::NOWHERE)
            .then(format!("{}.", words.join(", ")))));
    }
    blocks.extend(since.kits_for(view).into_iter().map(|kit| sets(kit, view, since)));
    blocks
}

/// What becomes of the sets of a kit.
fn sets(kit: &KitTold, view: &View<'_>, since: &Since) -> Block {
    let others = kit.sets.iter().filter(|set| set.fate != Fate::Valid);
    let others: Vec<HolderFate<'_>> =
        others.filter_map(|set| Some(HolderFate { holder: set.holder.as_ref()?, fate: set.fate, own: None })).collect();
    let is_same = kit.sets.iter().all(|set| set.fate == Fate::Valid);
    let words = match (is_same, others.is_empty()) {
        (true, _) => ": nothing of it is another, keep it.".to_owned(),
        (false, true) => ": put it together anew.".to_owned(),
        (false, false) => format!(": other papers for {}.", whose(&others, kit.sets.len(), view, since)),
    };
    say(Text::strong(format!("Set {}", kit.kit), Span::NOWHERE).then(words))
}

fn paper_row(paper: &PaperTold, view: &View<'_>, since: &Since) -> Row {
    let cell = |key, words: String| PAPERS.cell(key, Text::own(words));
    let fate = match paper.fate {
        Fate::Replace => "replace",
        Fate::New => "new: give out",
        Fate::TakeBack => "take back",
        Fate::Valid => "keep",
    };
    let others = paper.copies.iter().filter(|copy| copy.fate != Fate::Valid);
    let others: Vec<HolderFate<'_>> =
        others.map(|copy| HolderFate { holder: &copy.holder, fate: copy.fate, own: Some(&copy.own) }).collect();
    let whose = if paper.copies.is_empty() {
        "all who hold one".to_owned()
    } else {
        whose(&others, paper.copies.len(), view, since)
    };
    let code = |code: &Option<String>| code.clone().unwrap_or_else(|| "none".to_owned());
    row(vec![
        cell("paper", paper.document.clone()),
        cell("fate", fate.to_owned()),
        cell("was", code(&paper.old)),
        cell("code", code(&paper.new)),
        cell("holders", whose),
    ])
}

/// What becomes of what one holder has.
struct HolderFate<'a> {
    holder: &'a Id,
    fate: Fate,
    /// What tells the new copy from the old one where what all share is the same.
    own: Option<&'a str>,
}

impl HolderFate<'_> {
    fn words(&self, view: &View<'_>, since: &Since) -> String {
        let holder = held_by(self.holder, view, since);
        match (self.fate, self.own) {
            (Fate::TakeBack, _) => format!("{holder} (take back)"),
            (Fate::New, Some(own)) => format!("{holder} (new, own {own})"),
            (Fate::New, None) => format!("{holder} (new)"),
            (_, Some(own)) => format!("{holder} (own {own})"),
            (_, None) => holder,
        }
    }
}

/// Of more holders than these a sheet says how many there are: who they are, stands on the list of all copies. Chosen by eye: two lines.
const MOST_NAMED: usize = 8;

/// Whose copies are others than before, of so many.
fn whose(others: &[HolderFate<'_>], all: usize, view: &View<'_>, since: &Since) -> String {
    let alike = others.first().filter(|first| others.iter().all(|other| other.fate == first.fate));
    if let Some(first) = alike.filter(|_| others.len() == all) {
        let back = if first.fate == Fate::TakeBack { " (take back)" } else { "" };
        return format!("all {}{back}", plural(all, "holder"));
    }
    if others.len() <= MOST_NAMED {
        return others.iter().map(|other| other.words(view, since)).collect::<Vec<_>>().join(", ");
    }
    let counts = [(Fate::Replace, "to replace"), (Fate::New, "new"), (Fate::TakeBack, "to take back")];
    let counts = counts.map(|(fate, words)| (others.iter().filter(|other| other.fate == fate).count(), words));
    let counts = counts.iter().filter(|(count, _)| *count > 0).map(|(count, words)| format!("{count} {words}"));
    let counts = counts.collect::<Vec<_>>().join(", ");
    format!("{} of {}: {counts}; named on the distribution list", others.len(), plural(all, "holder"))
}

/// What to correct by hand on each paper for which that is safe.
fn by_pen(view: &View<'_>, since: &Since) -> Vec<Block> {
    let (mut blocks, mut moved) = (Vec::new(), Vec::new());
    for paper in since.papers_for(view).into_iter().filter(|paper| paper.fate == Fate::Replace) {
        let (Some(corrections), Some(old), Some(new)) = (&paper.corrections, &paper.old, &paper.new) else { continue };
        if matches!(corrections, Corrections::Moved) {
            moved.push(paper.document.as_str());
            continue;
        }
        blocks.push(Block::Heading(Text::own(paper.document.clone())));
        match corrections {
            Corrections::These(corrections) => {
                let rows = corrections.iter().map(|correction| {
                    let cell = |key, words: &str| {
                        let words = if words.is_empty() { "nothing" } else { words };
                        PEN.cell(key, Text::own(words))
                    };
                    row(vec![
                        cell("panel", &correction.panel.to_string()),
                        cell("where", &correction.place),
                        cell("strike", &correction.strike),
                        cell("write", &correction.write),
                    ])
                });
                blocks.push(PEN.of(rows.collect(), "No line of it changes."));
                let code =
                    format!("Then strike {old} and write {new} on every panel, with the new edition and its days.");
                blocks.push(say(Text::strong(code, Span::NOWHERE)));
            }
            Corrections::TooMany(count) => {
                let why = format!(
                    "{count} corrections are more than the {MOST_CORRECTIONS} that are safe by hand: give out the new sheet."
                );
                blocks.push(say(Text::own(why)));
            }
            Corrections::Moved => {}
        }
    }
    if !moved.is_empty() {
        let moved = moved.join(", ");
        blocks.push(say(Text::own(format!(
            "Lines come or go, so that others move; give out the new sheets of: {moved}."
        ))));
    }
    blocks
}
