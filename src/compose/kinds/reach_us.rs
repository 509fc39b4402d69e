//! For the switchboard of a place: where the radio is, how to call it, what to say, and who else can reach it when phones are dead.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text, WordList};
use crate::compose::duty_words::{closes, local_words_alone, short_time};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet, WantedAt};
use crate::compose::power_words::{body, places, small};
use crate::compose::to_write::rows_to_write;
use crate::ground::{Audience, Id};
use crate::plan::{Clock, Each, Net, Place, Plan, Post, subject};
use crate::reckon::{is_unstaffed, known, nets_at, posts_at};
use crate::tables::Profile;
use std::collections::BTreeSet;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "reach-us",
    title: "How to reach us",
    about: "for the switchboard of each place with a post: where the radio operator is and when, what to say, what to do when the phones are dead, and rows for what is taken meanwhile; names nobody, on every copy; two alike on a sheet, one for the door of the room",
    layout: "pad",
    each: &[Each::Place, Each::Once],
    widest: Audience::Public,
    sections: &["reach", "no-post"],
    tables: &[&HOURS],
    compose: Compose::Where(compose, WantedAt { at: stood, others: "no post of the plan stands there" }),
};

const HOURS: TableKind = TableKind {
    key: "reach-hours",
    columns: &[
        Column::must("post", "post", Role::Name),
        Column::must("when", "somebody is there, local", Role::Body),
        Column::must("then", "then", Role::Body),
    ],
    set: UsualSet::Rows {
        left: &["post"],
        right: &[],
        below: &[(&["when"], &["then"])],
        above: (&[], &[]),
        like: None,
    },
};

/// What the switchboard writes while nobody answers in the radio room, with the parts of the width.
const LOG: [(&str, u8); 4] = [("At", 2), ("From, number", 4), ("For", 3), ("Passed on at", 3)];
/// The rows that stand there at least.
const LEAST: u16 = 3;

const WRITE: &str = "______________________";

/// Common practice, no source.
const SAY: [&str; 4] = [
    "\u{201c}Radio room, I have a message for ...\u{201d}: say for whom, how urgent, and your own number.",
    "Better in writing: it is sent as it is written. Names of patients only where your own rules allow it.",
    "To reach this place from another: ask the radio operator there for it by its name on the air.",
    "Anything odd on your equipment: call the radio room at once; it stops sending.",
];

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = places(view).into_iter().filter_map(|place| section(place, view)).collect();
    if sections.is_empty() {
        let none = vec![body(Text::own("No post of the plan stands here."))];
        sections.push(Section { key: "no-post", title: Text::own("How to reach us"), blocks: none });
    }
    sections
}

fn section(place: &Place, view: &View<'_>) -> Option<Section> {
    let plan = view.plan();
    let posts: Vec<&Post> = posts_at(plan, place).collect();
    if posts.is_empty() || is_unstaffed(place) {
        return None;
    }
    let team = plan.head.as_ref().map(|head| head.team.to_string()).unwrap_or_default();
    let room =
        known(place.room.as_ref()).map_or_else(|| Text::own(unknown()), |room| Text::plain(room.as_str(), room.span));
    let nets: Vec<&Net> = posts.iter().flat_map(|post| nets_at(plan, post)).map(|(net, _)| net).collect();
    let mut names: Vec<&str> = nets.iter().map(|net| net.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let names = if names.is_empty() { "no net of the plan".to_owned() } else { names.join(", ") };
    let facts = [
        ("Who", Text::own(team)),
        ("Room", room),
        ("Extension", Text::own(unknown())),
        ("On the air", Text::plain(place.tactical.as_str(), place.tactical.span)),
        ("Nets", Text::own(names)),
        ("Phones dead", Text::own("send a runner to the room")),
        ("Nobody in the room", Text::own(format!("call {}", unknown()))),
    ];
    let facts = facts.map(|(what, said)| (Text::strong(what, place.span), said));
    let mut blocks = vec![Block::WordList(WordList::listed(facts))];
    blocks.push(HOURS.of(hours(&posts, view), "Hours: UNKNOWN. Somebody is there from ________ to ________."));
    blocks.push(Block::Heading(Text::own("What to say")));
    blocks.extend(SAY.map(|line| body(Text::own(format!("\u{2013} {line}")))));
    blocks.push(small("Common practice, no source. What the site's own staff and rules say comes first."));
    blocks.push(rows_to_write("Messages for the radio room", &LOG, LEAST));
    let title = Text::plain(format!("How to reach us: {}", place.tactical.value), place.tactical.span);
    Some(Section { key: "reach", title, blocks })
}

/// In the place of what the plan does not know, with room to write it.
fn unknown() -> String {
    format!("UNKNOWN: {WRITE}")
}

/// The places at which a post is stood.
fn stood(plan: &Plan, _: &Profile) -> BTreeSet<Id> {
    let with_post = |place: &&Place| !is_unstaffed(place) && posts_at(plan, place).next().is_some();
    plan.places.iter().filter(with_post).map(|place| place.id.value.clone()).collect()
}

/// When somebody stands there, without a name and without the hours of one: the sheet lies open at a desk, and is the same for all.
fn hours(posts: &[&Post], view: &View<'_>) -> Vec<Row> {
    let clock = Clock::of(view.plan());
    let mut rows = Vec::new();
    for post in posts {
        let runs = view.hours_stood(post);
        for (at, run) in runs.iter().enumerate() {
            let then = match runs.get(at + 1) {
                Some(next) => format!("nobody until {}", short_time(clock, next.from)),
                None if closes(post, view.plan(), run.to) => "the post closes".to_owned(),
                None => "nobody, by the plan".to_owned(),
            };
            let cells = vec![
                HOURS.cell("post", Text::plain(post.name.as_str(), post.name.span)),
                HOURS.cell("when", Text::plain(local_words_alone(clock, *run), post.span)),
                HOURS.cell("then", Text::plain(then, post.span)),
            ];
            rows.push(Row { label: String::new(), record: Some(subject(*post)), span: post.span, cells });
        }
    }
    rows
}
