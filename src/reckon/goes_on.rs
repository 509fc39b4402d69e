//! Whether a net goes on without some of its people, without following each of them: a net that is worked from a thousand places
//! can lose each of these, and to follow everybody every time would be a square.

use super::{Loss, Staff, Stand, hears};
use crate::ground::Id;
use crate::plan::{Channel, Net, Period, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// What is asked of each net for every loss, found once.
pub struct GoingOn<'a> {
    plan: &'a Plan,
    /// By net: the stands of those who hear its primary channel.
    heard: BTreeMap<&'a Id, Vec<Stand<'a>>>,
}

impl<'a> GoingOn<'a> {
    /// Of a plan.
    #[must_use]
    pub const fn of(plan: &'a Plan) -> Self {
        Self { plan, heard: BTreeMap::new() }
    }

    /// Whether a loss leaves the net's primary channel alive and, as long as anybody of it is lost, two others at two posts who
    /// hear it: then the net meets where it was. False where that is not so plain; then its people are to be followed.
    pub fn is_sure(&mut self, staff: &Staff<'a>, net: &'a Net, loss: &Loss) -> bool {
        let Some(primary) = net.legs.first().and_then(|leg| self.plan.channels.get(&leg.channel)) else { return false };
        if loss.dead.contains(&primary.id.value) {
            return false;
        }
        let posts = staff.lost(net, loss);
        let lost: Vec<Stand<'a>> = posts.iter().flat_map(|post| staff.stands_at(post)).collect();
        let members: BTreeSet<&Id> = lost.iter().map(|stand| &*stand.duty.member.value).collect();
        let plan = self.plan;
        let stands = self.heard.entry(&net.id.value).or_insert_with(|| heard(plan, staff, net, primary));
        let stays = |stand: &&Stand<'_>| {
            let (member, post) = (&*stand.duty.member.value, &*stand.duty.post.value);
            !posts.contains(post) && !members.contains(member)
        };
        !lost.is_empty() && lost.iter().all(|gone| are_two(stands, gone.period, stays))
    }
}

/// Whether two members at two posts stand all the time of a period; `stands` are in order of time, and the nearest are asked first.
fn are_two<'b, 'a: 'b>(stands: &'b [Stand<'a>], period: Period, stays: impl Fn(&&'b Stand<'a>) -> bool) -> bool {
    let begun = stands.partition_point(|stand| stand.period.from <= period.from);
    let before = stands.get(..begun).unwrap_or_default().iter().rev();
    let mut there = before.filter(|stand| stand.period.to >= period.to).filter(stays).map(|stand| stand.duty);
    let Some(first) = there.next() else { return false };
    there.any(|other| other.member.value != first.member.value && other.post.value != first.post.value)
}

fn heard<'a>(plan: &'a Plan, staff: &Staff<'a>, net: &'a Net, primary: &Channel) -> Vec<Stand<'a>> {
    let mut stands = staff.stands_of(net);
    stands
        .retain(|stand| plan.members.get(&stand.duty.member.value).is_some_and(|member| hears(plan, member, primary)));
    stands
}
