//! Who stands which post when: posts by stretches of time, then each post's duties with relief, then all reliefs in order of time.

use crate::audience::View;
use crate::compose::block::{
    Block, Column, Matrix, MatrixCell, MatrixColumn, MatrixRow, Paragraph, Role, Row, Section, Text,
};
use crate::compose::duty_people::{PEOPLE, people};
use crate::compose::duty_words::{change_words, local_short, relieved_by, short_time, stood_by, utc_span};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::sun_words::sun_of_posts;
use crate::ground::{Audience, Span, hours_words};
use crate::plan::{Clock, Each, Instant, Member, Period, Post, subject};
use crate::reckon::{Relief, Staff, Stand, StandIns, gaps, meant, nets_at, reliefs, stands, stretches};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "duty-sheet",
    title: "Duty sheet",
    about: "posts by time, local and UTC, with a change of the clocks; each post's duties with relief and handover; all reliefs of the team in order of time; gaps and who could fill them; each member's time on duty, least time off and nights",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["strip", "posts", "reliefs", "people"],
    tables: &[&DUTIES, &RELIEFS, &PEOPLE],
    compose: Compose::View(compose),
};

const DUTIES: TableKind = TableKind {
    key: "duties",
    columns: &[
        Column::must("post", "post", Role::Body),
        Column::must("when", "when, local", Role::Body),
        Column::must("utc", "UTC", Role::Body),
        Column::must("length", "long", Role::Body),
        Column::must("who", "who", Role::Body),
        Column::must("relief", "relieved by", Role::Body),
    ],
    set: UsualSet::Grid,
};

const RELIEFS: TableKind = TableKind {
    key: "reliefs",
    columns: &[
        Column::must("at", "local", Role::Body),
        Column::must("utc", "UTC", Role::Body),
        Column::must("post", "post", Role::Body),
        Column::must("place", "place", Role::Body),
        Column::must("from", "goes", Role::Body),
        Column::must("to", "comes", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Stretches that one drawing has room for, and the most that are drawn at all: a plan whose shifts change at more times is read in lists.
const ACROSS: usize = 6;
const MOST_STRETCHES: usize = 48;
/// In the place of who stands, where nobody does though the post is meant to be stood.
const NOBODY: &str = "NOBODY";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let staff = Staff::of(plan);
    let posts: Vec<(&Post, Vec<Stand<'_>>)> =
        plan.posts.iter().map(|post| (post, staff.stands_at(&post.id.value).collect())).collect();
    let others = || [strip(view, &staff, &posts), in_time(view, &posts), people(view)];
    let (by_post, [strip, in_time, people]) = rayon::join(|| by_post(view, &staff, &posts), others);
    vec![strip, by_post, in_time, people]
}

fn say(text: impl Into<String>, role: Role) -> Block {
    Block::Paragraph(Paragraph { text: Text::own(text), role })
}

fn strip(view: &View<'_>, staff: &Staff<'_>, posts: &[(&Post, Vec<Stand<'_>>)]) -> Section {
    let (plan, clock) = (view.plan(), Clock::of(view.plan()));
    let all = stands(plan);
    let mut blocks = Vec::new();
    for occasion in &staff.occasions {
        if let Some(change) = change_words(clock, *occasion) {
            blocks.push(Block::Paragraph(Paragraph {
                text: Text::strong(format!("In this time: {change}."), Span::NOWHERE)
                    .then(" Lengths are the time that passes."),
                role: Role::Body,
            }));
        }
        // A post opens and closes when nobody's duty begins or ends.
        let open = posts.iter().flat_map(|(post, stands)| meant(plan, post, stands, &staff.occasions));
        let parts = stretches(all.iter().map(|stand| stand.period).chain(open), *occasion);
        if parts.len() > MOST_STRETCHES {
            let what = format!("Shifts change at {} times: read the lists.", parts.len());
            blocks.push(say(what, Role::Body));
            continue;
        }
        for parts in parts.chunks(ACROSS) {
            blocks.push(Block::Matrix(matrix(view, staff, parts, posts)));
        }
        blocks.extend(
            sun_of_posts(view, *occasion)
                .into_iter()
                .map(|text| Block::Paragraph(Paragraph { text, role: Role::Body })),
        );
    }
    if posts.is_empty() || staff.occasions.is_empty() {
        blocks = vec![say("The plan has no post with a duty.", Role::Body)];
    }
    blocks.push(say(
        "NOBODY: the post is meant to be stood then, and no duty is written. A dash: it is closed.",
        Role::Small,
    ));
    Section { key: "strip", title: Text::own("Duty sheet"), blocks }
}

fn matrix(view: &View<'_>, staff: &Staff<'_>, parts: &[Period], posts: &[(&Post, Vec<Stand<'_>>)]) -> Matrix {
    let clock = Clock::of(view.plan());
    let column = |part: &Period| MatrixColumn {
        number: String::new(),
        name: Text::own(format!("{} to {}", short_time(clock, part.from), short_time(clock, part.to))),
        lines: vec![
            Text::own(format!("{} UTC", utc_span(*part))),
            Text::own(hours_words(part.from.minutes_to(part.to))),
        ],
    };
    let row = |(post, stands): &(&Post, Vec<Stand<'_>>)| {
        let open = meant(view.plan(), post, stands, &staff.occasions);
        let cell = |part: &Period| {
            let here = stands.iter().filter(|stand| stand.period.meets(*part));
            let mut who: Vec<String> = here.map(|stand| stood_by(stand.duty, view)).collect();
            who.dedup();
            MatrixCell::Words(match (who.is_empty(), open.iter().any(|open| open.meets(*part))) {
                (false, _) => Text::plain(who.join("; "), post.span),
                (true, true) => Text::strong(NOBODY, post.span),
                (true, false) => Text::plain("\u{2013}", post.span),
            })
        };
        MatrixRow {
            label: String::new(),
            head: vec![Text::strong(post.name.as_str(), post.name.span)],
            cells: parts.iter().map(cell).collect(),
            notes: Vec::new(),
            begins: false,
            record: Some(subject(*post)),
            span: post.span,
        }
    };
    Matrix {
        key: "duty-strip",
        heads: vec!["post"],
        columns: parts.iter().map(column).collect(),
        rows: posts.iter().map(row).collect(),
        counted: Vec::new(),
        counts: Text::default(),
        legend: Vec::new(),
    }
}

/// Each post's duties, and when nobody stands there.
fn by_post(view: &View<'_>, staff: &Staff<'_>, posts: &[(&Post, Vec<Stand<'_>>)]) -> Section {
    let (plan, clock) = (view.plan(), Clock::of(view.plan()));
    let all = StandIns::of(view.eligibility(None));
    let mut rows = Vec::new();
    for (post, stands) in posts {
        let nets: Vec<&str> = nets_at(plan, post).into_iter().map(|(net, _)| net.name.as_str()).collect();
        let name = match nets.is_empty() {
            true => post.name.to_string(),
            false => format!("{}: {}", post.name.value, nets.join(", ")),
        };
        let row = |period: Period, who: Text, relief: String, span: Span| {
            let cell = |key, words: String| DUTIES.cell(key, Text::plain(words, span));
            let mut long = hours_words(period.from.minutes_to(period.to));
            if let Some(change) = change_words(clock, period) {
                long = format!("{long}: {change}");
            }
            let cells = vec![
                cell("post", name.clone()),
                cell("when", local_short(clock, period)),
                cell("utc", utc_span(period)),
                cell("length", long),
                DUTIES.cell("who", who),
                cell("relief", relief),
            ];
            Row { label: String::new(), record: Some(subject(*post)), span, cells }
        };
        let mut of_post: Vec<(Instant, Row)> = Vec::new();
        let open = meant(plan, post, stands, &staff.occasions);
        for relief in reliefs(stands) {
            let span = relief.of.duty.span;
            let who = Text::plain(stood_by(relief.of.duty, view), span);
            let by = relieved(&relief, view, &open);
            of_post.push((relief.of.period.from, row(relief.of.period, who, by, span)));
        }
        for open in &open {
            for gap in gaps(stands, *open) {
                let names: Vec<String> =
                    all.for_post(post, staff, gap.period).into_iter().map(|member| named_to(member, view)).collect();
                let could = match names.is_empty() {
                    true => no_one(&all, (*post, staff, gap.period), view),
                    false => format!("could stand: {}", names.join(", ")),
                };
                let who = Text::strong(NOBODY, post.span).then(format!("; {could}"));
                // Who comes when the post has closed relieves nobody.
                let next = gap.after.filter(|next| clock.instant(next.from.value) <= gap.period.to);
                let next = next.map_or_else(|| "the post closes".to_owned(), |next| stood_by(next, view));
                of_post.push((gap.period.from, row(gap.period, who, next, post.span)));
            }
        }
        of_post.sort_by_key(|(from, _)| *from);
        rows.extend(of_post.into_iter().map(|(_, row)| row));
    }
    let mut table = DUTIES.table(rows, "The plan has no post.");
    let is_bare = |relief: Relief<'_>| relief.by.is_some() && relief.overlap() == 0 && !relief.goes_on();
    if posts.iter().any(|(_, stands)| reliefs(stands).into_iter().any(is_bare)) {
        table.said.push(Text::own("Reliefs are without overlap, unless a row says how long both are there"));
    }
    Section { key: "posts", title: Text::own("Post by post"), blocks: vec![Block::Table(table)] }
}

/// What is said of a time that no single member could stand: who could in parts, else why nobody can.
fn no_one<'a>(all: &StandIns<'a>, (post, staff, gap): (&'a Post, &Staff<'a>, Period), view: &View<'a>) -> String {
    let clock = Clock::of(view.plan());
    let parts = all.in_parts(post, staff, gap);
    if !parts.is_empty() {
        let part = |(member, part): &(&Member, Period)| {
            format!("{} {} to {}", named_to(member, view), clock.time(part.from), clock.time(part.to))
        };
        return format!("could stand in parts: {}", parts.iter().map(part).collect::<Vec<_>>().join(", "));
    }
    match all.most_rested(post, staff, gap) {
        _ if all.is_too_long(gap) => "too long for one: part it".to_owned(),
        Some((member, off)) => {
            format!(
                "nobody with {} rest; longest {}, {}",
                hours_words(all.rest()),
                named_to(member, view),
                hours_words(off)
            )
        }
        None if !all.is_searched() => "nobody could stand all of it".to_owned(),
        None => "nobody of the plan who may work its nets is free then".to_owned(),
    }
}

/// Who comes; where the post closes with the duty, that it does.
fn relieved(relief: &Relief<'_>, view: &View<'_>, open: &[Period]) -> String {
    let end = relief.of.period.to;
    let is_open = open.iter().any(|open| open.from <= end && end < open.to);
    match relief.by {
        None if !is_open => "the post closes".to_owned(),
        _ => relieved_by(relief, view),
    }
}

/// All reliefs of the team in order of time.
fn in_time(view: &View<'_>, posts: &[(&Post, Vec<Stand<'_>>)]) -> Section {
    let clock = Clock::of(view.plan());
    let mut all: Vec<(Instant, &Post, Relief<'_>)> = Vec::new();
    for (post, stands) in posts {
        let changes = reliefs(stands).into_iter().filter(|relief| relief.by.is_some() && !relief.goes_on());
        all.extend(changes.map(|relief| (relief.of.period.to, *post, relief)));
    }
    all.sort_by(|a, b| (a.0, &a.1.id.value).cmp(&(b.0, &b.1.id.value)));
    let rows = all.into_iter().map(|(at, post, relief)| {
        let place = post.place.as_ref().and_then(|place| view.plan().places.get(place));
        let place = place.map_or_else(|| "nowhere known".to_owned(), |place| place.tactical.to_string());
        let cell = |key, words: String| RELIEFS.cell(key, Text::plain(words, relief.of.duty.span));
        let cells = vec![
            cell("at", format!("{} {}", clock.day(at), short_time(clock, at))),
            cell("utc", at.utc().to_string()),
            cell("post", post.name.to_string()),
            cell("place", place),
            cell("from", stood_by(relief.of.duty, view)),
            cell("to", relieved_by(&relief, view)),
        ];
        Row { label: String::new(), record: Some(subject(post)), span: relief.of.duty.span, cells }
    });
    let table = RELIEFS.of(rows.collect(), "Nobody relieves anybody.");
    Section { key: "reliefs", title: Text::own("Reliefs in order of time"), blocks: vec![table] }
}
