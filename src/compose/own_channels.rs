//! The channels of whoever holds a copy: those of the nets that are worked from the posts where the holder stands, or that stand at the
//! holder's place.

use crate::audience::{Holder, View};
use crate::plan::{Channel, Duty, Net, Post};
use std::collections::BTreeSet;

/// The posts of a copy: those of the member's duties, or at the place.
pub(super) fn own_posts<'a>(view: &View<'a>) -> Vec<&'a Post> {
    let plan = view.plan();
    let stood: BTreeSet<&str> = own_duties(view).into_iter().map(|duty| duty.post.as_str()).collect();
    let is_own = |post: &&Post| match view.holder() {
        Some(Holder::Member(_)) => stood.contains(post.id.as_str()),
        Some(Holder::Place(place)) => post.place.as_ref().is_some_and(|at| *at.value == place.id.value),
        Some(Holder::Message(_)) | None => false,
    };
    plan.posts.iter().filter(is_own).collect()
}

/// The duties of a copy's member.
pub(super) fn own_duties<'a>(view: &View<'a>) -> Vec<&'a Duty> {
    let Some(Holder::Member(member)) = view.holder() else { return Vec::new() };
    view.plan().duties.iter().filter(|duty| *duty.member.value == member.id.value).collect()
}

/// The nets that are worked from there, or controlled.
pub(super) fn own_nets<'a>(view: &View<'a>) -> Vec<&'a Net> {
    let posts = own_posts(view);
    let is_own = |net: &&Net| {
        posts.iter().any(|post| {
            post.nets.iter().any(|id| *id.value == net.id.value)
                || net.control.as_ref().is_some_and(|control| *control.value == post.id.value)
        })
    };
    view.plan().nets.iter().filter(is_own).collect()
}

/// Their channels.
pub(super) fn own_channels<'a>(view: &View<'a>) -> Vec<&'a Channel> {
    let nets = own_nets(view);
    let meets_on = |net: &Net, channel: &Channel| {
        let is_leg = net.legs.iter().any(|leg| *leg.channel.value == channel.id.value);
        is_leg || net.also.iter().any(|also| *also.value == channel.id.value)
    };
    let is_own = |channel: &&Channel| nets.iter().any(|net| meets_on(net, channel));
    view.plan().channels.iter().filter(is_own).collect()
}
