//! Which channels people work from a place.

use crate::ground::{Id, Span};
use crate::plan::{Channel, Net, Place, Plan, Post};
use std::collections::{BTreeMap, BTreeSet};

/// A channel that is worked from a place.
#[derive(Clone, Copy)]
pub struct Worked<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// Where the plan says that it is worked there.
    pub span: Span,
    /// The net, where one net alone brings it there.
    pub net: Option<&'a Id>,
    /// The post that works it, where the place does not monitor it.
    pub post: Option<&'a Post>,
}

/// The posts at a place.
pub fn posts_at<'a>(plan: &'a Plan, place: &'a Place) -> impl Iterator<Item = &'a Post> {
    plan.posts.iter().filter(|post| post.place.as_ref().is_some_and(|at| at.value == place.id.value))
}

/// The nets that a post works, with where the plan says so: its own, then those that it controls without naming them.
#[must_use]
pub fn nets_at<'a>(plan: &'a Plan, post: &'a Post) -> Vec<(&'a Net, Span)> {
    let own = post.nets.iter().filter_map(|id| Some((plan.nets.get(&id.value)?, id.span)));
    let is_named = |net: &Net| post.nets.iter().any(|id| id.value == net.id.value);
    let controlled = plan.nets.iter().filter_map(|net| {
        let control = net.control.as_ref().filter(|control| control.value == post.id.value && !is_named(net))?;
        Some((net, control.span))
    });
    own.chain(controlled).collect()
}

/// Who works what where, found once for all places of a plan.
pub struct Works<'a> {
    plan: &'a Plan,
    /// By place.
    posts: BTreeMap<&'a Id, Vec<&'a Post>>,
    /// By the post that controls them.
    controlled: BTreeMap<&'a Id, Vec<&'a Net>>,
}

impl<'a> Works<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        let (mut posts, mut controlled) = (BTreeMap::<_, Vec<_>>::new(), BTreeMap::<_, Vec<_>>::new());
        for (place, post) in plan.posts.iter().filter_map(|post| Some((&*post.place.as_ref()?.value, post))) {
            posts.entry(place).or_default().push(post);
        }
        for (control, net) in plan.nets.iter().filter_map(|net| Some((&*net.control.as_ref()?.value, net))) {
            controlled.entry(control).or_default().push(net);
        }
        Self { plan, posts, controlled }
    }

    /// As [`nets_at`].
    fn nets_at(&self, post: &'a Post) -> impl Iterator<Item = (&'a Net, Span)> {
        let named: BTreeSet<&Id> = post.nets.iter().map(|id| &*id.value).collect();
        let own = post.nets.iter().filter_map(|id| Some((self.plan.nets.get(&id.value)?, id.span)));
        let controlled = self.controlled.get(&post.id.value).into_iter().flatten();
        let controlled = controlled.filter(move |net| !named.contains(&net.id.value));
        own.chain(controlled.filter_map(|net| Some((*net, net.control.as_ref()?.span))))
    }

    /// Each channel that is worked from a place once: those that it monitors, then those of the nets that posts there work, with
    /// every leg.
    #[must_use]
    pub fn at(&self, place: &'a Place) -> Vec<Worked<'a>> {
        let mut all: Vec<Worked<'a>> = Vec::new();
        let mut nets: BTreeMap<&Id, BTreeSet<&Id>> = BTreeMap::new();
        let mut add = |new: Worked<'a>| {
            let is_new = !nets.contains_key(&new.channel.id.value);
            nets.entry(&new.channel.id.value).or_default().extend(new.net);
            all.extend(is_new.then_some(new));
        };
        for id in &place.monitors {
            let Some(channel) = self.plan.channels.get(id) else { continue };
            add(Worked { channel, span: id.span, net: None, post: None });
        }
        for post in self.posts.get(&place.id.value).into_iter().flatten().copied() {
            for (net, span) in self.nets_at(post) {
                let ids = net.legs.iter().map(|leg| &leg.channel).chain(&net.also);
                let ids = ids.chain(net.meetings.iter().filter_map(|meeting| meeting.on.as_ref()));
                for channel in ids.filter_map(|id| self.plan.channels.get(&id.value)) {
                    add(Worked { channel, span, net: Some(&net.id.value), post: Some(post) });
                }
            }
        }
        for worked in &mut all {
            let nets = nets.get(&worked.channel.id.value);
            // Brought by two, it is no net's own.
            worked.net = nets.filter(|nets| nets.len() == 1).and_then(|nets| nets.first().copied());
        }
        all
    }
}
