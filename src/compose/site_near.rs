//! What is around a place: who else stands on its roof, and the nearest other posts with distance and bearing.

use super::away_words::away;
use super::block::{Column, Role, Row, Section, Text};
use super::kind::{TableKind, UsualSet};
use super::power_words::{body, small};
use crate::audience::View;
use crate::ground::{Id, Span};
use crate::plan::{Other, Place, Plan, subject};
use crate::reckon::{GeodesicWay, MODEL_YEARS, declination};
use std::collections::BTreeMap;

/// The nearest other posts.
pub(super) const NEAR: TableKind = TableKind {
    key: "site-near",
    columns: &[
        Column::must("place", "to", Role::Name),
        Column::must("posts", "posts there", Role::Body),
        Column::must("away", "away", Role::Body),
        Column::must("true", "true", Role::Body),
        Column::must("compass", "by compass", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// How many other posts are told.
const NEAREST: usize = 5;

/// The section.
pub(super) fn near(place: &Place, title: Text, view: &View<'_>) -> Section {
    let plan = view.plan();
    let mut blocks = vec![body(Text::strong("On the same roof: ", Span::NOWHERE).then(on_the_roof(place, plan)))];
    let posts = posts_by_place(plan);
    if place.position.is_none() {
        let words = "How far the other posts are is not known: the plan has no position of this place.";
        blocks.push(body(Text::plain(words, place.span)));
    } else if posts.keys().any(|other| **other != place.id.value) {
        blocks.push(NEAR.of(rows(place, &posts, plan), "No other post has a position in the plan."));
        blocks.push(small(format!(
            "As the crow flies (Vincenty 1975); compass by WMM2025, {} to {}. Hills are not known.",
            MODEL_YEARS.0, MODEL_YEARS.1
        )));
    }
    Section { key: "near", title, blocks }
}

/// Posts by the place where they stand.
fn posts_by_place(plan: &Plan) -> BTreeMap<&Id, Vec<&str>> {
    let mut posts: BTreeMap<&Id, Vec<&str>> = BTreeMap::new();
    for post in plan.posts.iter() {
        if let Some(place) = &post.place {
            posts.entry(&place.value).or_default().push(post.name.as_str());
        }
    }
    posts
}

fn on_the_roof(place: &Place, plan: &Plan) -> String {
    let is_here = |at: &str| at == place.id.value.as_str();
    let repeaters = plan.repeaters.iter().filter(|one| one.place.as_ref().is_some_and(|at| is_here(at.value.as_str())));
    let gateways = plan.gateways.iter().filter(|one| one.place.as_ref().is_some_and(|at| is_here(at.value.as_str())));
    let all = repeaters.map(|one| one.name.to_string()).chain(gateways.map(|one| one.name.to_string()));
    // Where nobody stands they are what the sheet is about, and no neighbours.
    let is_stood = plan.posts.iter().any(|post| post.place.as_ref().is_some_and(|at| is_here(at.value.as_str())));
    let all = all.filter(|_| is_stood);
    let all: Vec<String> = all.chain(place.others.iter().map(other_words)).collect();
    if all.is_empty() { "none that the plan knows of".to_owned() } else { all.join("; ") }
}

/// `Paging, sends on 152.4800`.
fn other_words(other: &Other) -> String {
    let sends = other.sends.map(|at| format!(", sends on {}", at.value.to_mhz()));
    let hears = other.hears.map(|at| format!(", hears on {}", at.value.to_mhz()));
    format!("{}{}{}", other.name.value, sends.unwrap_or_default(), hears.unwrap_or_default())
}

fn rows(from: &Place, posts: &BTreeMap<&Id, Vec<&str>>, plan: &Plan) -> Vec<Row> {
    let Some(own) = from.position.as_ref().map(|at| &at.value) else { return Vec::new() };
    let others = posts.keys().filter(|id| ***id != from.id.value).filter_map(|id| plan.places.named(id));
    let located = others.filter_map(|other| Some((&other.position.as_ref()?.value, other)));
    // On a sphere first, which is quicker: it is never off by a half, so the nearest are among twice as many.
    let mut rough: Vec<_> = located.map(|(at, other)| (own.distance_to(at), &other.id.value, at, other)).collect();
    rough.sort_by_key(|(far, id, ..)| (*far, *id));
    rough.truncate(2 * NEAREST);
    let mut ways: Vec<(GeodesicWay, &Place)> =
        rough.into_iter().filter_map(|(.., at, other)| Some((GeodesicWay::between(own, at)?, other))).collect();
    ways.sort_by(|(one, a), (two, b)| (one.millimeters, &a.id.value).cmp(&(two.millimeters, &b.id.value)));
    let turn = plan.edition.as_ref().and_then(|edition| declination(own, edition.valid_from.value));
    let row = |(way, to): &(GeodesicWay, &Place)| {
        let names = posts.get(&to.id.value).map(|names| names.join(", ")).unwrap_or_default();
        let cell = |key, words: String| NEAR.cell(key, Text::plain(words, to.span));
        let cells = vec![
            NEAR.cell("place", Text::plain(to.tactical.as_str(), to.tactical.span)),
            cell("posts", names),
            cell("away", away(way.millimeters, plan)),
            cell("true", bearing(way, Some(0))),
            cell("compass", bearing(way, turn)),
        ];
        Row { label: String::new(), record: Some(subject(*to)), span: to.span, cells }
    };
    ways.iter().take(NEAREST).map(row).collect()
}

/// Three figures, as one says them: `076`. Nearer than some meters a bearing leads nowhere.
fn bearing(way: &GeodesicWay, turn: Option<i32>) -> String {
    let Some(turn) = turn else { return "not known".to_owned() };
    if way.millimeters < 5000 {
        return "same place".to_owned();
    }
    format!("{:03}\u{b0}", (way.bearing - turn * 10 + 50).rem_euclid(36_000) / 100)
}
