//! What a form has of its holder's first duty, and of the nets that the holder works: of a member by the own duties, of a place by the
//! posts there.

use super::block::Text;
use super::duty_words::{moment, relieved_by};
use super::net_calls::called_there;
use crate::audience::{Holder, View};
use crate::ground::{At, Id};
use crate::plan::{Net, Plan, PlanValue, Post, Ref};
use crate::reckon::{Stand, nets_at, posts_at, reliefs, stands_at, stands_of};

/// The first duty by time, of a member's copy.
pub(super) fn of_duty(value: PlanValue, view: &View<'_>) -> Option<Text> {
    let plan = view.plan();
    let Holder::Member(member) = view.holder()? else { return None };
    let own = plan.duties.iter().filter(|duty| *duty.member.value == member.id.value);
    let stands = stands_of(plan, own);
    let first = stands.first()?;
    let post = plan.posts.get(&first.duty.post.value)?;
    let span = first.duty.span;
    match value {
        PlanValue::DutyPlace => Some(place(post, stands.len(), plan)),
        PlanValue::DutyFrom => Some(Text::plain(moment(first.duty.from.value, plan), span)),
        PlanValue::DutyTo => Some(Text::plain(moment(first.duty.to.value, plan), span)),
        PlanValue::DutyRelief => relief(first, post, view).map(|words| Text::plain(words, span)),
        PlanValue::DutyNet => {
            let nets: Vec<String> =
                nets_at(plan, post).into_iter().filter_map(|(net, _)| first_channel(net, plan)).collect();
            (!nets.is_empty()).then(|| Text::plain(nets.join("; "), post.span))
        }
        _ => None,
    }
}

/// `Court House, Net control; door: Basement door`, and of how many duties it is the first.
fn place(post: &Post, duties: usize, plan: &Plan) -> Text {
    let place = post.place.as_ref().and_then(|place| plan.places.get(place));
    let text = called_there(post, plan);
    let named = text.words();
    let is_said = named.ends_with(post.name.as_str()) || post.name.as_str().starts_with(&named);
    let text = if is_said { text } else { text.then(format!(", {}", post.name.value)) };
    let door = place.and_then(|place| place.entrance.as_ref());
    let text = match door {
        Some(door) => text.then(format!("; {}", door.value)),
        None => text,
    };
    if duties > 1 { text.then(format!(" (first of {duties} duties, see the duty sheet)")) } else { text }
}

fn relief(first: &Stand<'_>, post: &Post, view: &View<'_>) -> Option<String> {
    let stands = stands_at(view.plan(), post);
    let all = reliefs(&stands);
    let own = all.iter().find(|relief| std::ptr::eq(relief.of.duty, first.duty))?;
    own.by.is_some().then(|| relieved_by(own, view))
}

/// `Command net, CMD 1`.
fn first_channel(net: &Net, plan: &Plan) -> Option<String> {
    let channel = plan.channels.get(&net.legs.first()?.channel.value)?;
    Some(format!("{}, {}", net.name.value, channel.name.value))
}

/// The first or second net that the holder works, the one that the document names before all others; of a copy that nobody holds, of all
/// nets where the plan has two: `Command net: CMD 1, control Net control, Court House`.
pub(super) fn net_of(place: usize, named: Option<&Id>, view: &View<'_>) -> Option<Text> {
    let plan = view.plan();
    let mut nets: Vec<&Net> = match view.holder() {
        Some(Holder::Place(place)) => worked(posts_at(plan, place), plan),
        Some(Holder::Member(member)) => {
            let own = plan.duties.iter().filter(|duty| *duty.member.value == member.id.value);
            worked(own.filter_map(|duty| plan.posts.get(&duty.post.value)), plan)
        }
        _ if plan.nets.len() == 2 => plan.nets.iter().collect(),
        _ => Vec::new(),
    };
    if let Some(named) = named.and_then(|id| plan.nets.named(id)) {
        nets.retain(|net| net.id.value != named.id.value);
        nets.insert(0, named);
    }
    let net = nets.get(place)?;
    let channel = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel.value));
    let text = Text::plain(net.name.as_str(), net.name.span);
    let text = channel.map_or_else(|| text.clone(), |channel| text.clone().then(format!(": {}", channel.name.value)));
    let text = control(net, plan).map_or_else(|| text.clone(), |who| text.clone().then(", control ").then_text(who));
    let more = nets.iter().skip(2).map(|net| net.name.as_str()).collect::<Vec<_>>().join(", ");
    Some(if place == 1 && !more.is_empty() { text.then(format!("; also {more}")) } else { text })
}

/// Each net once, in the order of the posts.
fn worked<'a>(posts: impl Iterator<Item = &'a Post>, plan: &'a Plan) -> Vec<&'a Net> {
    let mut nets: Vec<&Net> = Vec::new();
    for (net, _) in posts.flat_map(|post| nets_at(plan, post)) {
        if !nets.iter().any(|known| known.id.value == net.id.value) {
            nets.push(net);
        }
    }
    nets
}

/// The post that controls a net, with its place.
pub(super) fn control(net: &Net, plan: &Plan) -> Option<Text> {
    let post = net.control.as_ref()?;
    let known = plan.posts.get(&post.value)?;
    let place = known.place.as_ref().and_then(|place: &At<Ref<_>>| plan.places.get(&place.value));
    let place = place.map(|place| format!(", {}", place.tactical.value)).unwrap_or_default();
    Some(Text::plain(format!("{}{place}", known.name.value), post.span))
}
