//! Old copies to take back: who holds them, and what a lost one exposed.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::people::held_by;
use crate::compose::since::{CopyTold, Exposure, Fate, KitTold, NumberOf, PaperTold, Since};
use crate::ground::{Audience, Id, Span, plural};
use crate::plan::Each;
use std::collections::BTreeSet;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "recall-sheet",
    title: "Recall sheet",
    about: "old copies to be destroyed or taken back, by holder, to be ticked; what a lost copy exposed, and whom to tell",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Leads,
    sections: &["recall", "lost"],
    tables: &[&OLD, &EXPOSED],
    compose: Compose::Edition(compose),
};

/// Old copies.
const OLD: TableKind = TableKind {
    key: "old-copies",
    columns: &[
        // What is another in a set is a list, which may be broken.
        Column::must("paper", "paper", Role::Body),
        Column::must("holder", "holder", Role::Name),
        Column::must("was", "code on it", Role::Call),
        Column::must("destroyed", "destroyed on", Role::Body),
        Column::must("lost", "lost on", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What a lost copy exposed.
const EXPOSED: TableKind = TableKind {
    key: "exposed",
    columns: &[
        Column::must("paper", "paper", Role::Name),
        Column::must("shows", "what it shows", Role::Body),
        Column::must("tell", "tell", Role::Body),
    ],
    set: UsualSet::Grid,
};

const TO_WRITE: &str = "____________";

fn compose(view: &View<'_>, since: &Since) -> Vec<Section> {
    let papers: Vec<&PaperTold> = since.papers_for(view);
    let mut old: Vec<Row> = papers.iter().flat_map(|paper| recalled(paper, view, since)).collect();
    old.extend(since.kits_for(view).into_iter().flat_map(|kit| sets(kit, view, since)));
    let leavers = since.left.iter().filter(|id| may_hold(id, &papers, view, since));
    old.extend(leavers.map(|id| old_row("all else of the team's papers", held_by(id, view, since), "any")));
    let mut recall = vec![OLD.of(old, "No old copy is to be taken back.")];
    if let Some((number, _)) = since.before {
        recall.push(say(format!(
            "Old copies are those of edition {number}. A copy that nobody finds is lost: tell the coordinator the same day."
        )));
        let stay: Vec<&str> = papers
            .iter()
            .filter(|paper| paper.fate == Fate::Valid && paper.copies.is_empty() && paper.audience != Audience::Public)
            .map(|paper| paper.document.as_str())
            .collect();
        if !since.left.is_empty() && !stay.is_empty() {
            let stay = stay.join(", ");
            recall.push(say(format!("Who leaves gives back what stays valid, too: {stay}, and the whole of a set.")));
        }
    }
    vec![
        Section { key: "recall", title: Text::own("Old copies"), blocks: recall },
        Section { key: "lost", title: Text::own("If a copy is lost"), blocks: lost(&papers, view, since) },
    ]
}

fn say(words: String) -> Block {
    Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Body })
}

/// Whether somebody who left may hold papers that this sheet's readers know of: a place holds none but its own copies.
fn may_hold(id: &Id, papers: &[&PaperTold], view: &View<'_>, since: &Since) -> bool {
    let has_copy = papers.iter().flat_map(|paper| &paper.copies).any(|copy| copy.holder == *id);
    !since.places.contains_key(id.as_str()) && (has_copy || view.audience().may_read(&Audience::Leads))
}

fn old_row(paper: &str, holder: String, was: &str) -> Row {
    let cell = |key, words: String| OLD.cell(key, Text::own(words));
    let cells = vec![
        cell("paper", paper.to_owned()),
        cell("holder", holder),
        cell("was", was.to_owned()),
        cell("destroyed", TO_WRITE.to_owned()),
        cell("lost", TO_WRITE.to_owned()),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

fn recalled(paper: &PaperTold, view: &View<'_>, since: &Since) -> Vec<Row> {
    let code = |was: &Option<String>| was.clone().unwrap_or_else(|| "none".to_owned());
    if paper.copies.is_empty() {
        let is_old = matches!(paper.fate, Fate::Replace | Fate::TakeBack);
        let row = || old_row(&paper.document, "all who hold one".to_owned(), &code(&paper.old));
        return is_old.then(row).into_iter().collect();
    }
    let is_old = |copy: &&CopyTold| matches!(copy.fate, Fate::Replace | Fate::TakeBack);
    let copies = paper.copies.iter().filter(is_old);
    copies.map(|copy| old_row(&paper.document, held_by(&copy.holder, view, since), &code(&copy.was))).collect()
}

/// Sets of which something is another, and those that nobody is to have any more.
fn sets(kit: &KitTold, view: &View<'_>, since: &Since) -> Vec<Row> {
    let row = |set: &crate::compose::since::SetTold| {
        let paper = match set.fate {
            Fate::TakeBack => format!("{}: the whole set", kit.kit),
            Fate::Replace => format!("{}: its cover and {}", kit.kit, set.papers.join(", ")),
            Fate::New | Fate::Valid => return None,
        };
        let holder = set.holder.as_ref().map_or_else(|| "all who hold one".to_owned(), |id| held_by(id, view, since));
        Some(old_row(&paper, holder, "by its cover"))
    };
    kit.sets.iter().filter_map(row).collect()
}

/// What whoever finds a paper learns, by what it shows, and whose numbers these are.
fn lost(papers: &[&PaperTold], view: &View<'_>, since: &Since) -> Vec<Block> {
    let now = view.plan().edition.as_ref().map(|edition| edition.number.value.get());
    let before = since.before.map(|(number, _)| number);
    let (mut rows, mut without) = (Vec::new(), BTreeSet::new());
    for paper in papers {
        let (old, new) = (&paper.showed, &paper.shows);
        let mut told: Vec<(Vec<u32>, &Exposure)> = Vec::new();
        for (number, shown) in [(before, old), (now, new)] {
            let Some((number, shown)) = Option::zip(number, shown.as_ref()) else { continue };
            match told.iter_mut().find(|(_, other)| *other == shown) {
                Some((numbers, _)) => numbers.push(number),
                None => told.push((vec![number], shown)),
            }
        }
        if told.iter().all(|(_, shown)| shown.is_none()) && !told.is_empty() {
            without.insert(paper.document.as_str());
        }
        rows.extend(told.iter().filter(|(_, shown)| !shown.is_none()).map(|told| exposed(paper, told, view, since)));
    }
    let mut blocks = vec![EXPOSED.of(rows, "No paper shows anybody's number or address.")];
    if !without.is_empty() {
        let without: Vec<&str> = without.into_iter().collect();
        blocks.push(say(format!(
            "No phone number or address of anybody is on these; tell the coordinator: {}.",
            without.join(", ")
        )));
    }
    if let (Some(number), true) = (before, papers.iter().any(|paper| paper.old.is_some() && paper.showed.is_none())) {
        blocks.push(say(format!(
            "The plan of edition {number} is not at hand: take it that a copy of that edition shows every number that its readers may know."
        )));
    }
    blocks
}

fn exposed(paper: &PaperTold, (editions, shown): &(Vec<u32>, &Exposure), view: &View<'_>, since: &Since) -> Row {
    let counted = |numbers: &BTreeSet<NumberOf>| {
        let members = numbers.iter().filter(|number| matches!(number, NumberOf::Member(_))).count();
        let contacts = numbers.len() - members;
        let members = (members > 0).then(|| plural(members, "member"));
        let contacts = (contacts > 0).then(|| plural(contacts, "contact") + " at sites");
        members.into_iter().chain(contacts).collect::<Vec<_>>().join(" and ")
    };
    let mut shows = Vec::new();
    shows.extend((!shown.all.is_empty()).then(|| format!("numbers of {}", counted(&shown.all))));
    shows.extend(shown.own.then(|| "its holder's own number".to_owned()));
    shows.extend((!shown.some.is_empty()).then(|| format!("on some copies numbers of {}", counted(&shown.some))));
    let mut tell: Vec<String> = Vec::new();
    for number in shown.all.iter().chain(&shown.some) {
        let name = match number {
            NumberOf::Member(id) => view.plan().members.named(id).map_or_else(
                || since.calls.get(id.as_str()).cloned().unwrap_or_else(|| "who left without a call sign".to_owned()),
                |member| named_to(member, view),
            ),
            NumberOf::Contact(place, _) => {
                since.places.get(place.as_str()).cloned().unwrap_or_else(|| place.to_string())
            }
        };
        if !tell.contains(&name) {
            tell.push(name);
        }
    }
    tell.extend(shown.own.then(|| "its holder".to_owned()));
    let editions: Vec<String> = editions.iter().map(ToString::to_string).collect();
    let word = if editions.len() == 1 { "edition" } else { "editions" };
    let cell = |key, words: String| EXPOSED.cell(key, Text::own(words));
    let cells = vec![
        cell("paper", format!("{}, {word} {}", paper.document, editions.join(" and "))),
        cell("shows", shows.join(", ")),
        cell("tell", format!("the coordinator; then {}", tell.join(", "))),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
