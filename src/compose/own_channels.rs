//! The channels of whoever holds a copy: those of the nets that are worked from the posts where the holder stands, or that stand at the
//! holder's place.

use crate::audience::{Holder, View};
use crate::ground::Id;
use crate::plan::{Channel, Net, Post};
use std::collections::BTreeSet;

/// The posts of a copy: those of the member's duties, or at the place.
pub(super) fn own_posts<'a>(view: &View<'a>) -> Vec<&'a Post> {
    let plan = view.plan();
    match view.holder() {
        Some(Holder::Member(_)) => {
            let own: BTreeSet<&Id> = view.own_duties().into_iter().map(|duty| &*duty.post.value).collect();
            own.into_iter().filter_map(|post| plan.posts.named(post)).collect()
        }
        Some(Holder::Place(place)) => {
            let is_own = |post: &&Post| post.place.as_ref().is_some_and(|at| *at.value == place.id.value);
            plan.posts.iter().filter(is_own).collect()
        }
        Some(Holder::Message(_)) | None => Vec::new(),
    }
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
