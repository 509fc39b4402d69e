//! Whether the people of a post work two channels in turn, because the radios that the plan gives them are too few for both.

use super::{Keyed, SiteEnd, Staff, Watch, at_once, each_stretch, posts_at};
use crate::ground::Id;
use crate::plan::{Channel, Member, Place, Plan, Post, Ref};
use std::collections::BTreeSet;

/// The radios at the posts of a plan.
pub struct PostRadios<'a> {
    plan: &'a Plan,
    staff: Staff<'a>,
}

impl<'a> PostRadios<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        Self { plan, staff: Staff::of(plan) }
    }

    /// Whether both ends are worked by the people of one post alone, who in no shift have two radios for them.
    #[must_use]
    pub fn work_in_turn(&self, place: &'a Place, one: &SiteEnd, other: &SiteEnd) -> bool {
        let (Some(one), Some(other)) = (worked(one), worked(other)) else { return false };
        let channels = || Some([self.plan.channels.named(one)?, self.plan.channels.named(other)?]);
        let (Some(channels), Some(post)) = (channels(), self.only_post(place, [one, other])) else { return false };
        let (mut is_stood, mut is_in_turn) = (false, true);
        let stands: Vec<_> = self.staff.stands_at(&post.id.value).collect();
        each_stretch(self.plan, &stands, |Watch { standing, .. }| {
            let people: BTreeSet<&Ref<Member>> = standing.iter().map(|stand| &stand.duty.member.value).collect();
            let members: Option<Vec<&Member>> = people.into_iter().map(|id| self.plan.members.get(id)).collect();
            is_stood = true;
            is_in_turn = members.is_some_and(|members| self.are_too_few(&members, &channels));
            is_in_turn
        });
        is_stood && is_in_turn
    }

    fn are_too_few(&self, members: &[&Member], channels: &[&Channel]) -> bool {
        at_once(self.plan, members, channels).is_some_and(|count| count < channels.len())
    }

    /// The one post at a place that works any of the channels, where it works all of them.
    fn only_post(&self, place: &'a Place, channels: [&Id; 2]) -> Option<&'a Post> {
        let works = |post: &&Post, channel: &Id| {
            let nets = post.nets.iter().filter_map(|id| self.plan.nets.get(&id.value));
            nets.into_iter().any(|net| net.legs.iter().any(|leg| leg.channel.value == *channel))
        };
        let mut posts = posts_at(self.plan, place).filter(|post| channels.iter().any(|channel| works(post, channel)));
        let post = posts.next().filter(|post| channels.iter().all(|channel| works(post, channel)))?;
        posts.next().is_none().then_some(post)
    }
}

/// The channel of a radio that a post works by hand, where the place does not monitor it besides.
fn worked(end: &SiteEnd) -> Option<&Id> {
    let is_post = matches!(end.keyed, Keyed::Hand { is_monitored: false, .. });
    end.channel.as_ref().filter(|_| is_post)
}
