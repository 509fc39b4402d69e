//! Who works which net when, found once: rules ask it for every net, every post and every loss.

use super::stand::occasions_of;
use super::{Loss, Stand, stands};
use crate::ground::Id;
use crate::plan::{Duty, Member, Net, Period, Plan, Post, Ref};
use std::collections::{BTreeMap, BTreeSet};

/// The posts, duties and nets of a plan by each other.
pub struct Staff<'a> {
    pub(super) plan: &'a Plan,
    /// When posts are meant to be stood.
    pub occasions: Vec<Period>,
    /// By post, in order of time, each with its place among all.
    stands: BTreeMap<&'a Id, Vec<(usize, Stand<'a>)>>,
    /// By post, in the plan's order.
    duties: BTreeMap<&'a Id, Vec<&'a Duty>>,
    /// The posts that name a net among their own, by net.
    listed: BTreeMap<&'a Id, BTreeSet<&'a Id>>,
    /// The nets that a post controls, by post.
    controlled: BTreeMap<&'a Id, Vec<&'a Net>>,
    /// By place.
    posts: BTreeMap<&'a Id, BTreeSet<&'a Id>>,
    /// Nets by their primary channel.
    begun: BTreeMap<&'a Id, Vec<&'a Net>>,
}

impl<'a> Staff<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        Self::standing(plan, &stands(plan))
    }

    /// Of a plan whose duties are these in order of time.
    #[must_use]
    pub fn standing(plan: &'a Plan, stands: &[Stand<'a>]) -> Self {
        let mut staff = Self {
            plan,
            occasions: occasions_of(plan, stands),
            stands: BTreeMap::new(),
            duties: BTreeMap::new(),
            listed: BTreeMap::new(),
            controlled: BTreeMap::new(),
            posts: BTreeMap::new(),
            begun: BTreeMap::new(),
        };
        for (place, stand) in stands.iter().enumerate() {
            staff.stands.entry(&stand.duty.post.value).or_default().push((place, *stand));
        }
        for duty in &plan.duties {
            staff.duties.entry(&duty.post.value).or_default().push(duty);
        }
        for post in plan.posts.iter() {
            for net in &post.nets {
                staff.listed.entry(&net.value).or_default().insert(&post.id.value);
            }
            if let Some(place) = &post.place {
                staff.posts.entry(&place.value).or_default().insert(&post.id.value);
            }
        }
        for net in plan.nets.iter() {
            if let Some(control) = &net.control {
                staff.controlled.entry(&control.value).or_default().push(net);
            }
            if let Some(leg) = net.legs.first() {
                staff.begun.entry(&leg.channel.value).or_default().push(net);
            }
        }
        staff
    }

    /// The duties at a post, in order of time; without those that end before they begin.
    pub fn stands_at(&self, post: &Id) -> impl Iterator<Item = Stand<'a>> + '_ {
        self.stands.get(post).into_iter().flatten().map(|(_, stand)| *stand)
    }

    /// The duties at a post, in the plan's order.
    pub fn duties_at(&self, post: &Id) -> impl Iterator<Item = &'a Duty> + '_ {
        self.duties.get(post).into_iter().flatten().copied()
    }

    /// The nets that a post controls, by id.
    #[must_use]
    pub fn controlled_by(&self, post: &Id) -> &[&'a Net] {
        self.controlled.get(post).map_or(&[], Vec::as_slice)
    }

    /// The nets that begin on a channel, by id.
    #[must_use]
    pub fn begun_on(&self, channel: &Id) -> &[&'a Net] {
        self.begun.get(channel).map_or(&[], Vec::as_slice)
    }

    /// The nets that are worked from a post, by id: its own, and those that it controls.
    #[must_use]
    pub fn nets_of(&self, post: &'a Post) -> Vec<&'a Net> {
        let own = post.nets.iter().filter_map(|id| self.plan.nets.get(id));
        let all = own.chain(self.controlled_by(&post.id.value).iter().copied());
        all.map(|net| (&net.id.value, net)).collect::<BTreeMap<_, _>>().into_values().collect()
    }

    /// The posts from which a net is worked: those that name it, and the one that controls it.
    fn posts_of(&self, net: &'a Net) -> BTreeSet<&'a Id> {
        let mut posts = self.listed.get(&net.id.value).cloned().unwrap_or_default();
        posts.extend(net.control.as_ref().map(|control| &*control.value));
        posts
    }

    /// The duties in which a net is worked, in order of time.
    #[must_use]
    pub fn stands_of(&self, net: &'a Net) -> Vec<Stand<'a>> {
        let mut stands: Vec<(usize, Stand<'a>)> =
            self.posts_of(net).into_iter().filter_map(|post| self.stands.get(post)).flatten().copied().collect();
        stands.sort_by_key(|(place, _)| *place);
        stands.into_iter().map(|(_, stand)| stand).collect()
    }

    /// The same in the plan's order, with those that end before they begin.
    #[must_use]
    pub fn duties_of(&self, net: &'a Net) -> Vec<&'a Duty> {
        self.posts_of(net).into_iter().flat_map(|post| self.duties_at(post)).collect()
    }

    /// Whether any duty is written for a net.
    #[must_use]
    pub fn is_staffed(&self, net: &'a Net) -> bool {
        self.posts_of(net).into_iter().any(|post| self.duties.contains_key(post))
    }

    /// The members who work a net: those with a duty at a post of the net or at its control post. None where no duty is
    /// written for it, or a duty's member or post was refused, so that nothing can be said.
    #[must_use]
    pub fn crew(&self, net: &'a Net) -> Option<Vec<&'a Member>> {
        if !self.is_staffed(net) || !self.plan.has_all(&["post", "duty"]) {
            return None;
        }
        let ids: BTreeSet<&Ref<Member>> = self.duties_of(net).into_iter().map(|duty| &duty.member.value).collect();
        ids.into_iter().map(|id| self.plan.members.get(id)).collect()
    }

    /// How many posts work any of the nets.
    #[must_use]
    pub fn posts_on(&self, nets: &[&'a Net]) -> usize {
        let posts: BTreeSet<&Id> = nets.iter().flat_map(|net| self.posts_of(net)).collect();
        posts.len()
    }

    /// The posts of a net that are lost with a place.
    pub(super) fn lost(&self, net: &'a Net, loss: &Loss) -> BTreeSet<&'a Id> {
        let there = loss.place.as_ref().and_then(|place| self.posts.get(place));
        let is_own = |post: &&'a Id| {
            let is_control = net.control.as_ref().is_some_and(|control| control.value == **post);
            is_control || self.listed.get(&net.id.value).is_some_and(|posts| posts.contains(post))
        };
        there.into_iter().flatten().copied().filter(is_own).collect()
    }

    /// The nets of which each loss takes the primary channel or a post, by id.
    #[must_use]
    pub fn touched(&self, losses: &[Loss]) -> Vec<Vec<&'a Net>> {
        let of_place = |place: &Id| {
            let posts = self.posts.get(place).into_iter().flatten().filter_map(|id| self.plan.posts.named(id));
            posts.flat_map(|post| self.nets_of(post)).collect::<Vec<_>>()
        };
        let of_loss = |loss: &Loss| {
            let dead = loss.dead.iter().flat_map(|channel| self.begun_on(channel)).copied();
            let lost = loss.place.iter().flat_map(of_place);
            dead.chain(lost).map(|net| (&net.id.value, net)).collect::<BTreeMap<_, _>>().into_values().collect()
        };
        losses.iter().map(of_loss).collect()
    }
}
