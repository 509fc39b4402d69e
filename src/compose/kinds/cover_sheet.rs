//! What a set of papers holds: on top of it, so that whoever is handed it sees what is missing.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::own_battery::{OwnBattery, own_battery};
use crate::compose::people::copy_holder;
use crate::compose::since::{SetPaper, Since};
use crate::compose::sun_words::sun_at;
use crate::ground::{Audience, Day, Id, Span, plural};
use crate::plan::{Clock, Each, Period};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "cover-sheet",
    title: "Cover sheet",
    about: "what a set of papers holds, in order: each paper with its pages, codes and readers, to be ticked when the set is put together; on top of every kit",
    layout: "full",
    each: &[Each::Once, Each::Member, Each::Place],
    widest: Audience::Public,
    sections: &["set", "handed-over"],
    tables: &[&PAPERS],
    compose: Compose::Set(compose),
};

/// The papers.
const PAPERS: TableKind = TableKind {
    key: "set-papers",
    columns: &[
        Column::must("place", "no.", Role::Number),
        Column::must("tick", "there", Role::Body),
        Column::must("paper", "paper", Role::Name),
        Column::must("what", "what", Role::Body),
        Column::must("page", "from page", Role::Number),
        Column::must("pages", "pages", Role::Number),
        Column::must("code", "code", Role::Call),
        Column::must("own", "own code", Role::Call),
        Column::must("audience", "for", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What is written down when a set changes hands; common practice, no source.
const HANDED: [&str; 4] = [
    "Put together by: ____________________ on: ____________",
    "Handed over by: ____________________ on: ____________",
    "Received by: ____________________ on: ____________",
    "Old set destroyed by: ____________________ on: ____________. A paper that is lost: tell the coordinator at once.",
];

fn whose(holder: &Id, view: &View<'_>) -> Block {
    Block::Heading(Text::own(format!("For {}", copy_holder(holder, view))))
}

/// On a member's set: the battery of the own station, and when it is light at the own posts.
fn own_hours(view: &View<'_>) -> Vec<Text> {
    let (plan, clock) = (view.plan(), Clock::of(view.plan()));
    let mut lines = match own_battery(view) {
        OwnBattery::Lines(lines) => lines,
        OwnBattery::Unknown(words) => vec![Text::strong("Your battery: ", Span::NOWHERE).then(words)],
        OwnBattery::None => Vec::new(),
    };
    let mut days: Vec<(&Id, Day)> = Vec::new();
    for duty in view.own_duties() {
        let Some(place) =
            plan.posts.get(&duty.post.value).and_then(|post| plan.places.get(&post.place.as_ref()?.value))
        else {
            continue;
        };
        let period = Period { from: clock.instant(duty.from.value), to: clock.instant(duty.to.value) };
        let day = (&place.id.value, clock.day(period.from));
        if days.len() < MOST_DAYS && !days.contains(&day) {
            days.push(day);
            lines.extend(sun_at(view, place, period));
        }
    }
    lines
}

/// Of more duties the first are told: the others are on the duty sheet.
const MOST_DAYS: usize = 4;

/// A box to tick, wide enough for a pen.
const BOX: &str = "[    ]";

fn compose(view: &View<'_>, since: &Since, kit: Option<&Id>) -> Vec<Section> {
    let order = kit.and_then(|kit| view.plan().kits.named(kit));
    let papers = match kit {
        Some(kit) => since.set_of(kit, view),
        None => since.papers_in_hand(view),
    };
    let say = |text: Text| Block::Paragraph(Paragraph { text, role: Role::Body });
    let title = order.map_or_else(
        || Text::own("Papers of this edition"),
        |order| Text::plain(order.title.value.to_string(), order.title.span),
    );
    let pages: usize = papers.iter().filter_map(|paper| paper.pages).sum();
    let mut size = plural(papers.len(), "paper");
    if pages > 0 && papers.iter().all(|paper| paper.pages.is_some()) {
        size += &format!(" on {} beside this cover", plural(pages, "page"));
    }
    let rows = (1..).zip(&papers).map(|(place, paper)| row(place, paper)).collect();
    let mut set: Vec<Block> = view.holder().map(|holder| whose(holder.id(), view)).into_iter().collect();
    set.extend(own_hours(view).into_iter().map(say));
    set.extend([
        say(Text::strong(size, Span::NOWHERE).then(
            ", in this order. Tick each as you put it in. Compare its code with the foot of the paper: a paper with another code is of another edition, and does not belong in this set.",
        )),
        PAPERS.of(rows, "There is no paper that these readers may have."),
    ]);
    let handed = HANDED.iter().map(|words| say(Text::own(*words))).collect();
    vec![
        Section { key: "set", title, blocks: set },
        Section { key: "handed-over", title: Text::own("Handed over"), blocks: handed },
    ]
}

fn row(place: usize, paper: &SetPaper) -> Row {
    let cell = |key, words: String| PAPERS.cell(key, Text::own(words));
    let number = |number: Option<usize>| number.map_or_else(|| "own".to_owned(), |number| number.to_string());
    let cells = vec![
        cell("place", place.to_string()),
        cell("tick", BOX.to_owned()),
        cell("paper", paper.document.to_string()),
        cell("what", paper.title.clone()),
        cell("page", number(paper.page)),
        cell("pages", number(paper.pages)),
        cell("code", paper.code.clone()),
        cell("own", paper.own.clone().unwrap_or_else(|| "same for all".to_owned())),
        cell("audience", paper.audience.to_string()),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
