//! Who is called in a net: posts by the name that is said on the air, and by call sign who stands there.

use super::block::Text;
use super::duty_words::short_time;
use crate::audience::View;
use crate::ground::Id;
use crate::plan::{Clock, Net, Plan, Post};
use crate::reckon::{nets_at, stands_at};
use std::collections::BTreeSet;

/// Call signs of one post that are told beside it; with more of them one looks at the duty sheet.
const MOST: usize = 4;

/// What is said to call a post: its place's tactical call; where another post of the plan stands there as well, or the place is not
/// known, the post's own name.
pub(super) fn called_there(post: &Post, plan: &Plan) -> Text {
    let place = post.place.as_ref().and_then(|place| plan.places.get(place));
    let is_shared = |other: &Post| {
        let is_there = other.place.as_ref().zip(post.place.as_ref()).is_some_and(|(a, b)| a.value == b.value);
        is_there && other.id.value != post.id.value
    };
    match place {
        Some(place) if plan.posts.iter().any(is_shared) => {
            let starts = post.name.as_str().to_lowercase().starts_with(&place.tactical.as_str().to_lowercase());
            let words =
                if starts { post.name.to_string() } else { format!("{}, {}", place.tactical.value, post.name.value) };
            Text::plain(words, post.name.span)
        }
        Some(place) => Text::plain(place.tactical.as_str(), place.tactical.span),
        None => Text::plain(post.name.as_str(), post.name.span),
    }
}

/// The posts that a net's control calls, in the plan's order: those that work it, and the one that would take control.
pub(super) fn roll<'a>(net: &Net, plan: &'a Plan) -> Vec<&'a Post> {
    let is = |post: &Post, id: Option<&Id>| id.is_some_and(|id| *id == post.id.value);
    let control = net.control.as_ref().map(|control| &*control.value);
    let next = net.alternate_control.as_ref().map(|next| &*next.value);
    let works = |post: &Post| nets_at(plan, post).iter().any(|(known, _)| known.id.value == net.id.value);
    plan.posts.iter().filter(|post| !is(post, control) && (works(post) || is(post, next))).collect()
}

/// By whom a post is stood, each with the times, in the order in which they first come. On copies that have no duties there is nobody.
pub(super) fn on_duty(post: &Post, view: &View<'_>) -> Vec<(Vec<String>, String)> {
    let plan = view.plan();
    let clock = Clock::of(plan);
    let mut all: Vec<(&Id, Vec<String>, String)> = Vec::new();
    for stand in stands_at(plan, post) {
        let Some(member) = plan.members.get(&stand.duty.member.value) else { continue };
        let Some(call) = &member.call else { continue };
        let times = format!("{} to {}", short_time(clock, stand.period.from), short_time(clock, stand.period.to));
        match all.iter_mut().find(|(known, ..)| **known == member.id.value) {
            Some((_, known, _)) => known.push(times),
            None => all.push((&member.id.value, vec![times], call.to_string())),
        }
    }
    all.into_iter().map(|(_, times, call)| (times, call)).collect()
}

/// `WZ7QRM or WZ7QRO`; none where the copy knows no call sign of anybody there.
pub(super) fn calls_at(post: &Post, view: &View<'_>) -> Option<String> {
    let signs: BTreeSet<String> = on_duty(post, view).into_iter().map(|(_, call)| call).collect();
    match signs.len() {
        0 => None,
        1..=MOST => Some(signs.into_iter().collect::<Vec<_>>().join(" or ")),
        more => Some(format!("one of {more}, see the duty sheet")),
    }
}
