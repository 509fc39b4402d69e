//! The front of a channel card: what it is, whose it is, what holds for whoever holds it, and the nets at a glance.

use super::block::{Block, Front, Section, Text};
use super::channel_words::in_order;
use super::duty_words::{across, relieved_at, relieved_by};
use super::foot::{edition_words, foot, validity_words};
use super::holding::{holds_for_all, own_radios};
use super::net_words::grid;
use super::own_battery::{OwnBattery, own_battery};
use super::own_channels::own_channels;
use super::site_words;
use crate::audience::{Holder, View};
use crate::ground::Span;
use crate::plan::{Clock, Duty, Post};
use crate::reckon::{nets_at, reliefs, stands_of};

/// The front, as its own section.
pub(super) fn section(view: &View<'_>) -> Section {
    let nets = grid(view);
    let has_brackets = nets.as_ref().is_some_and(|(_, is_deaf)| *is_deaf);
    let front = Block::Front(front(view, has_brackets));
    let blocks = std::iter::once(front).chain(nets.map(|(table, _)| Block::Table(table))).collect();
    let head = view.plan().head.as_ref();
    let title = head.map_or_else(|| Text::own("This plan"), |head| Text::plain(head.short.as_str(), head.short.span));
    Section { key: "front", title, blocks }
}

fn front(view: &View<'_>, has_brackets: bool) -> Front {
    let plan = view.plan();
    let said = foot(view);
    let (head, edition) = (plan.head.as_ref(), plan.edition.as_ref());
    let of_head = |text: Option<(String, Span)>| text.map(|(words, span)| Text::plain(words, span)).unwrap_or_default();
    let class = match view.holder() {
        Some(Holder::Member(member)) => member
            .class
            .as_ref()
            .and_then(|class| Some(Text::plain(view.profile().class(class.as_str())?.name.clone(), class.span))),
        _ => None,
    };
    let copy = if said.holder.is_some() { said.audience.clone() } else { "any member".to_owned() };
    Front {
        name: of_head(head.map(|head| (head.short.to_string(), head.short.span))),
        edition: edition.map_or_else(Text::default, |edition| edition_words(edition, view)),
        title: of_head(head.map(|head| (head.title.to_string(), head.title.span))),
        dates: edition.map_or_else(Text::default, |edition| {
            Text::of_edition(validity_words(edition, view), edition.valid_from.span)
        }),
        read_first: Text::strong("Read this first.", Span::NOWHERE).then(
            " If theirs differs, the highest edition that is valid now counts; ask net control for the bulletin.",
        ),
        code: None,
        holder: Text::own(said.holder.unwrap_or_else(|| capital(&said.audience))),
        beside: class.unwrap_or_else(|| Text::own(copy)),
        lines: lines(view, has_brackets),
    }
}

/// Words as the first of a line.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What holds for whoever holds the copy.
fn lines(view: &View<'_>, has_brackets: bool) -> Vec<Text> {
    let Some(_) = view.holder() else {
        return vec![Text::own("Send only where your class, radio and site allow it.")];
    };
    let mut lines = duties_words(&view.own_duties(), view);
    lines.extend(powered(own_battery(view), own_radios(view)));
    lines.extend(holds_for_all(view));
    lines.extend(site_words::silence(view));
    lines.extend(site_words::cautions(view));
    lines.extend(own_rows(view));
    let brackets = "In brackets: not in your radio.";
    lines.extend(has_brackets.then(|| Text::own(brackets)));
    lines
}

/// Batteries and radios; that the plan has no battery is said behind the radios, where there are any.
fn powered(battery: OwnBattery, radios: Option<Text>) -> Vec<Text> {
    match (battery, radios) {
        (OwnBattery::Lines(lines), radios) => lines.into_iter().chain(radios).collect(),
        (OwnBattery::Unknown(words), Some(radios)) => vec![radios.then(format!("; battery {words}"))],
        (OwnBattery::Unknown(words), None) => vec![Text::strong("Your battery: ", Span::NOWHERE).then(words)],
        (OwnBattery::None, radios) => radios.into_iter().collect(),
    }
}

/// A post that is stood on one or several days at the same hours.
struct Stood {
    /// With its place and nets.
    post: String,
    days: Vec<String>,
    hours: String,
    /// Who comes next.
    then: String,
    span: Span,
}

/// `Medical desk at Alder, Medical net, 2027-01-16 and 2027-01-17, 06:00 to 18:00`; where a duty ends on another day than it begins, both with their hours.
fn duties_words(duties: &[&Duty], view: &View<'_>) -> Vec<Text> {
    let mut all: Vec<Stood> = Vec::new();
    for stood in duties.iter().filter_map(|duty| stood(duty, view)) {
        let same = |known: &&mut Stood| {
            (&known.post, &known.hours, &known.then) == (&stood.post, &stood.hours, &stood.then)
                && !known.days.is_empty()
        };
        match all.iter_mut().find(same) {
            Some(known) => known.days.extend(stood.days),
            None => all.push(stood),
        }
    }
    // What is the same of several duties at one post is said once.
    let posts = all.chunk_by(|one, next| one.post == next.post);
    let words = |stood: &[Stood]| {
        let Some(Stood { post, span, .. }) = stood.first() else { return Text::default() };
        let turns: Vec<String> = stood.iter().map(Stood::turn).collect();
        let parted = if turns.len() > 1 { ": " } else { ", " };
        Text::strong("You: ", *span).then(format!("{post}{parted}{}", turns.join("; ")))
    };
    posts.map(words).collect()
}

impl Stood {
    /// `2027-01-16 and 2027-01-17, 06:00 to 18:00, relieved by WZ7QSA Osman Pell`.
    fn turn(&self) -> String {
        let Self { days, hours, then, .. } = self;
        let when = match days.split_last() {
            None => hours.clone(),
            Some((only, [])) => format!("{only} {hours}"),
            Some((last, others)) => format!("{} and {last}, {hours}", others.join(", ")),
        };
        format!("{when}{then}")
    }
}

/// The place is named where the post's own name does not begin with it.
fn stood(duty: &Duty, view: &View<'_>) -> Option<Stood> {
    let plan = view.plan();
    let post = plan.posts.get(&duty.post.value)?;
    let place = post.place.as_ref().and_then(|place| plan.places.get(place)).map(|place| place.tactical.as_str());
    let is_named = |place: &&str| post.name.as_str().to_lowercase().starts_with(&place.to_lowercase());
    let place = place.filter(|place| !is_named(place)).map(|place| format!(" at {place}")).unwrap_or_default();
    let clock = Clock::of(plan);
    let period = clock.period(duty.from.value, duty.to.value);
    let [from, to] = [period.from, period.to].map(|at| (clock.day(at).to_string(), clock.time_and_utc(at)));
    let across = across(clock, period);
    let nets = nets_at(plan, post).into_iter().map(|(net, _)| net.name.to_string());
    let (days, hours) = match from.0 == to.0 {
        true => (vec![from.0], format!("{} to {}{across}", from.1, to.1)),
        false => (Vec::new(), format!("{} {} to {} {}{across}", from.0, from.1, to.0, to.1)),
    };
    Some(Stood {
        post: [format!("{}{place}", post.name.value)].into_iter().chain(nets).collect::<Vec<_>>().join(", "),
        days,
        hours,
        then: then(duty, post, view).unwrap_or_default(),
        span: duty.from.span,
    })
}

/// `, relieved by WZ7QSA Osman Pell`.
fn then(duty: &Duty, post: &Post, view: &View<'_>) -> Option<String> {
    let there = view.duties_at(&post.id.value).into_iter();
    let relief =
        reliefs(&stands_of(view.plan(), there)).into_iter().find(|relief| std::ptr::eq(relief.of.duty, duty))?;
    Some(match relief.by {
        Some(_) => format!(", relieved by {}", relieved_by(&relief, view)),
        None => format!(", {}", relieved_at(&relief, post, view)),
    })
}

/// The numbers of the channels beside which a bar stands.
fn own_rows(view: &View<'_>) -> Option<Text> {
    let own = own_channels(view);
    let is_own = |id| own.iter().any(|channel| channel.id.value == id);
    let rows = in_order(view.plan()).into_iter().filter(|channel| is_own(channel.id.value.clone()));
    let words: Vec<String> = rows
        .map(|channel| channel.row.as_ref().map_or_else(|| channel.name.to_string(), |row| row.to_string()))
        .collect();
    (!words.is_empty()).then(|| Text::own(format!("Your channels have a bar: {}", words.join(", "))))
}
