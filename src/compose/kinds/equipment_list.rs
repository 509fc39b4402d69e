//! What to take along: for each post what the plan says of its place and station, for each member what the member has, and the usual bag;
//! with boxes for three times.

use crate::audience::{Holder, View};
use crate::compose::block::{Block, Column, Role, Row, Section, Text};

use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::list_words::{lines, practice};
use crate::compose::own_channels::own_posts;
use crate::ground::{Audience, Span, hours_words};
use crate::plan::{Each, Member, PartKind, Place, Post, Station, subject};
use crate::reckon::{known, says_none, stands_at};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "equipment-list",
    title: "Equipment checklist",
    about: "what to take along, for each post and each member, with boxes for packed, there and back",
    layout: "full",
    each: &[Each::Once, Each::Place, Each::Member],
    widest: Audience::Team,
    sections: &["post", "member", "bag"],
    tables: &[&ITEMS],
    compose: Compose::View(compose),
};

const ITEMS: TableKind = TableKind {
    key: "equipment",
    columns: &[
        Column::must("for", "for", Role::Body).where_used(),
        Column::must("item", "item", Role::Body),
        Column::must("why", "why", Role::Body),
        Column::must("packed", "packed", Role::Body),
        Column::must("there", "there", Role::Body),
        Column::must("back", "back", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Common practice, no source.
const BAG: [&str; 9] = [
    "identification, this plan of the right edition",
    "radios of your list, programmed from this edition, tried",
    "batteries charged, day of charging written on each",
    "antenna, feed line, and the adapter that the site sheet names",
    "power supply, cable with a fuse at the source",
    "headset; something to write on and two pens",
    "message forms and log for the whole shift, and one shift more",
    "light, watch that shows UTC, food, water, medicine",
    "vest, warm and dry clothes; spare fuses",
];

const TICK: &str = "_____";

fn compose(view: &View<'_>) -> Vec<Section> {
    let posts: Vec<&Post> = match view.holder() {
        None => view.plan().posts.iter().collect(),
        Some(_) => own_posts(view),
    };
    let members: Vec<&Member> = match view.holder() {
        None => {
            let stands = |member: &&Member| view.plan().duties.iter().any(|duty| duty.member.value == member.id.value);
            view.plan().members.iter().filter(stands).collect()
        }
        Some(Holder::Member(member)) => vec![member],
        Some(Holder::Place(_) | Holder::Message(_)) => Vec::new(),
    };
    let posts = posts.into_iter().map(|post| of_post(post, view));
    let members = members.into_iter().map(|member| of_member(member, view));
    let mut sections: Vec<Section> = match view.holder() {
        Some(_) => posts.chain(members).map(Packed::alone).collect(),
        None => vec![
            together("post", "Equipment for the posts", posts),
            together("member", "Equipment for the members", members),
        ],
    };
    sections.push(usual_bag());
    sections
}

/// What somebody or some post needs of its own.
struct Packed {
    key: &'static str,
    /// Whose it is.
    who: Text,
    rows: Vec<Row>,
    /// What is said where there are none.
    when_empty: &'static str,
}

impl Packed {
    /// As a section of its own.
    fn alone(self) -> Section {
        let title = Text::own("Equipment for ").then_text(self.who);
        Section { key: self.key, title, blocks: vec![ITEMS.of(self.rows, self.when_empty)] }
    }
}

/// All of a kind under one heading: a heading for each would be most of the sheet.
fn together(key: &'static str, title: &str, all: impl Iterator<Item = Packed>) -> Section {
    let rows = all.flat_map(|packed| {
        let named = |mut row: Row| {
            row.cells.insert(0, ITEMS.cell("for", packed.who.clone()));
            row
        };
        packed.rows.into_iter().map(named).collect::<Vec<_>>()
    });
    Section { key, title: Text::own(title), blocks: vec![ITEMS.of(rows.collect(), "The plan knows of nothing.")] }
}

/// The usual bag, with boxes.
fn usual_bag() -> Section {
    let rows = BAG.iter().map(|item| row(item, "usual", Span::NOWHERE));
    let blocks = vec![ITEMS.of(rows.collect(), ""), practice()];
    Section { key: "bag", title: Text::own("Equipment for everybody"), blocks }
}

/// The same as a list to read.
pub(super) fn bag() -> Section {
    let mut blocks: Vec<Block> = lines(&BAG).collect();
    blocks.push(practice());
    Section { key: "bag", title: Text::own("What to bring"), blocks }
}

fn row(item: &str, why: &str, span: Span) -> Row {
    let cell = |key, words: &str| ITEMS.cell(key, Text::plain(words, span));
    let cells =
        vec![cell("item", item), cell("why", why), cell("packed", TICK), cell("there", TICK), cell("back", TICK)];
    Row { label: String::new(), record: None, span, cells }
}

fn of_post(post: &Post, view: &View<'_>) -> Packed {
    let plan = view.plan();
    let place = post.place.as_ref().and_then(|id| plan.places.get(id));
    let mut rows: Vec<Row> = place.map(plug).into_iter().collect();
    for station in plan.stations.iter().filter(|station| station.posts.iter().any(|own| own.value == post.id.value)) {
        rows.extend(parts(station));
    }
    let minutes: i64 = stands_at(plan, post).iter().map(|stand| stand.period.from.minutes_to(stand.period.to)).sum();
    if minutes > 0 {
        let long = hours_words(minutes);
        rows.push(row("message forms, log sheets, pens", &format!("{long} of duty, and one shift more"), post.span));
    }
    for row in &mut rows {
        row.record = Some(subject(post));
    }
    let at = place.map(|place| place.tactical.as_str());
    let at = at.filter(|at| !post.name.as_str().to_lowercase().starts_with(&at.to_lowercase()));
    let at = at.map(|at| format!(" at {at}")).unwrap_or_default();
    let who = Text::plain(format!("{}{at}", post.name.value), post.name.span);
    Packed { key: "post", who, rows, when_empty: "The plan knows of nothing that this post needs of its own." }
}

/// What fits the jack.
fn plug(place: &Place) -> Row {
    let connector = known(place.connector.as_ref());
    match (known(place.adapter.as_ref()), connector) {
        (Some(adapter), _) => row(adapter.as_str(), "the jack there", adapter.span),
        (None, _) if says_none(place.jack.as_ref()) => row("antenna and its feed line", "no jack there", place.span),
        (None, Some(connector)) => {
            row(&format!("cable or adapter for {}", connector.value), "the jack there", connector.span)
        }
        (None, None) => row("every adapter that you have", "connector UNKNOWN", place.span),
    }
}

/// The parts of a station, and spare fuses of each rating in it.
fn parts(station: &Station) -> Vec<Row> {
    let name = station.name.as_str();
    let is_carried = |kind: PartKind| !matches!(kind, PartKind::Mains);
    let carried = station.parts.iter().filter(|part| is_carried(part.kind.value));
    let mut rows: Vec<Row> = carried.map(|part| row(part.name.as_str(), name, part.name.span)).collect();
    let cables = station
        .parts
        .iter()
        .flat_map(|part| std::iter::once(&part.cable).chain(part.charged_by.iter().map(|other| &other.cable)));
    let mut fuses: Vec<_> = cables.filter_map(|cable| cable.fuse.map(|fuse| fuse.value)).collect();
    fuses.sort();
    fuses.dedup();
    if !fuses.is_empty() {
        let fuses: Vec<String> = fuses.iter().map(ToString::to_string).collect();
        rows.push(row(&format!("spare fuses: {}", fuses.join(", ")), name, station.span));
    }
    rows
}

fn of_member(member: &Member, view: &View<'_>) -> Packed {
    let plan = view.plan();
    let radios = member.radios.iter().filter_map(|id| Some((plan.radios.get(id)?, id.span)));
    let mut rows: Vec<Row> = radios.map(|(radio, span)| row(radio.name.as_str(), "own radio", span)).collect();
    if rows.is_empty() {
        rows.push(row("radios: UNKNOWN to the plan ______________________", "own radios", member.span));
    }
    rows.push(row("charged batteries for each radio, and the charger", "own radios", member.span));
    for row in &mut rows {
        row.record = Some(subject(member));
    }
    let who = Text::plain(named_to(member, view), member.span);
    Packed { key: "member", who, rows, when_empty: "" }
}
