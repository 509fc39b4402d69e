//! Old copies to take back: who holds them, and what a lost one exposed.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::people::copy_holder;
use crate::compose::since::{CopyTold, Fate, PaperTold, Since};
use crate::ground::{Audience, Span, plural};
use crate::plan::{Each, Member};
use crate::reckon::{Seen, contact_seen, seen};

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
        Column::must("paper", "paper", Role::Name),
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
        Column::must("shows", "what its readers may know", Role::Body),
        Column::must("tell", "tell", Role::Body),
    ],
    set: UsualSet::Grid,
};

const TO_WRITE: &str = "____________";

fn compose(view: &View<'_>, since: &Since) -> Vec<Section> {
    let papers: Vec<&PaperTold> = since.papers_for(view);
    let old: Vec<Row> = papers.iter().flat_map(|paper| recalled(paper, view, since)).collect();
    let mut recall = vec![OLD.of(old, "No old copy is to be taken back.")];
    if let Some((number, _)) = since.before {
        let words = format!(
            "Old copies are those of edition {number}. A copy that nobody finds is lost: tell the coordinator the same day."
        );
        recall.push(Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Body }));
    }
    let held: Vec<Row> = papers.iter().filter(|paper| paper.new.is_some()).map(|paper| exposed(paper, view)).collect();
    let lost = vec![EXPOSED.of(held, "There is no paper.")];
    vec![
        Section { key: "recall", title: Text::own("Old copies"), blocks: recall },
        Section { key: "lost", title: Text::own("If a copy is lost"), blocks: lost },
    ]
}

/// Who holds a copy; of a member who is no more in the plan, the call sign that was theirs.
fn held_by(copy: &CopyTold, view: &View<'_>, since: &Since) -> String {
    let is_there =
        view.plan().members.named(&copy.holder).is_some() || view.plan().places.named(&copy.holder).is_some();
    let call = since.calls.get(copy.holder.as_str()).filter(|_| !is_there).cloned();
    call.unwrap_or_else(|| copy_holder(&copy.holder, view))
}

fn recalled(paper: &PaperTold, view: &View<'_>, since: &Since) -> Vec<Row> {
    if !matches!(paper.fate, Fate::Replace | Fate::TakeBack) {
        return Vec::new();
    }
    let line = |holder: String, was: &Option<String>| {
        let cell = |key, words: String| OLD.cell(key, Text::own(words));
        let cells = vec![
            cell("paper", paper.document.clone()),
            cell("holder", holder),
            cell("was", was.clone().unwrap_or_else(|| "none".to_owned())),
            cell("destroyed", TO_WRITE.to_owned()),
            cell("lost", TO_WRITE.to_owned()),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    if paper.copies.is_empty() {
        return vec![line("all who hold one".to_owned(), &paper.old)];
    }
    let is_old = |copy: &&CopyTold| matches!(copy.fate, Fate::Replace | Fate::TakeBack);
    paper.copies.iter().filter(is_old).map(|copy| line(held_by(copy, view, since), &copy.was)).collect()
}

/// What whoever finds a paper learns at most, by its readers, and whose numbers these are.
fn exposed(paper: &PaperTold, view: &View<'_>) -> Row {
    let plan = view.plan();
    let reached: Vec<&Member> =
        plan.members.iter().filter(|member| seen(member, &paper.audience) == Seen::Number).collect();
    let contacts = plan.places.iter().flat_map(|place| place.contacts.iter().map(move |contact| (place, contact)));
    let sites: Vec<&str> = contacts
        .filter(|(_, contact)| contact_seen(contact, &paper.audience) == Seen::Number)
        .map(|(place, _)| place.tactical.as_str())
        .collect();
    let mut shows = vec!["frequencies and tones".to_owned()];
    shows.extend((!reached.is_empty()).then(|| format!("numbers of {}", plural(reached.len(), "member"))));
    shows.extend((!sites.is_empty()).then(|| format!("numbers at sites: {}", plural(sites.len(), "contact"))));
    let mut tell: Vec<String> = reached.iter().map(|member| named_to(member, view)).collect();
    let mut sites: Vec<String> = sites.into_iter().map(str::to_owned).collect();
    sites.dedup();
    tell.extend(sites);
    let tell = if tell.is_empty() {
        "the coordinator".to_owned()
    } else {
        format!("the coordinator; then {}", tell.join(", "))
    };
    let cell = |key, words: String| EXPOSED.cell(key, Text::own(words));
    let name = format!("{}, {} copy", paper.document, paper.audience);
    let cells = vec![cell("paper", name), cell("shows", shows.join(", ")), cell("tell", tell)];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
