//! The front of a channel card: what it is, whose it is, what holds for whoever holds it, and the nets at a glance.

use super::block::{Block, Front, Section, Text};
use super::channel_words::in_order;
use super::foot::{edition_words, foot, validity_words};
use super::holding::{holds_for_all, own_radios};
use super::net_words::grid;
use super::own_channels::{own_channels, own_duties};
use super::site_words;
use crate::audience::{Holder, View};
use crate::ground::Span;
use crate::plan::{Duty, Plan};

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
        read_first: Text::strong("Read this first.", Span::NOWHERE)
            .then(" If theirs differs, the higher edition counts; ask net control for the bulletin."),
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
        return vec![Text::own("Send only where class, radio and site allow it.")];
    };
    let duties = own_duties(view).into_iter().filter_map(|duty| duty_words(duty, view.plan()));
    let mut lines: Vec<Text> = duties.collect();
    lines.extend(own_radios(view));
    lines.extend(holds_for_all(view));
    lines.extend(site_words::silence(view));
    lines.extend(site_words::cautions(view));
    lines.extend(own_rows(view));
    let brackets = "In brackets: not in your radio.";
    lines.extend(has_brackets.then(|| Text::own(brackets)));
    lines
}

/// `Medical desk at Alder: 2027-01-16 06:00 to 18:00`; the day is said once.
fn duty_words(duty: &Duty, plan: &Plan) -> Option<Text> {
    let post = plan.posts.get(&duty.post.value)?;
    let place = post.place.as_ref().and_then(|place| plan.places.get(place));
    let place = place.map(|place| format!(" at {}", place.tactical.value)).unwrap_or_default();
    let (from, to) = (duty.from.value.to_string(), duty.to.value.to_string());
    let day = from.split(' ').next().unwrap_or_default();
    let to = to.strip_prefix(day).map_or(to.as_str(), str::trim_start);
    Some(Text::plain(format!("{}{place}: {from} to {to}", post.name.value), duty.from.span))
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
