//! What the copies of a plan's papers ask again and again, found once for all of them.

use super::{ChannelLaw, ChannelLimit, Sun, sun};
use crate::ground::{Day, Id, Position, Shelf};
use crate::plan::{Channel, Clock, Duty, Plan};
use crate::tables::Profile;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

/// Of one plan: whoever asks names the same one each time.
#[derive(Debug, Default)]
pub struct FoundOnce {
    laws: Shelf<Id, Arc<ChannelLaw>>,
    limits: Shelf<Id, ChannelLimit>,
    suns: Shelf<(Day, [i32; 2]), Option<Sun>>,
    duties: OnceLock<Duties>,
    lowest_class: OnceLock<Option<usize>>,
}

/// Places of duties among those of the plan, in its order.
#[derive(Debug, Default)]
struct Duties {
    of: BTreeMap<Id, Vec<usize>>,
    at: BTreeMap<Id, Vec<usize>>,
}

impl FoundOnce {
    /// What the law says of a channel, found now where nobody has asked yet.
    pub fn law(&self, channel: &Channel, find: impl FnOnce() -> ChannelLaw) -> Arc<ChannelLaw> {
        self.laws.get(channel.id.value.clone(), || Arc::new(find()))
    }

    /// How much may be sent on a channel, the same way.
    pub fn limit(&self, channel: &Channel, find: impl FnOnce() -> ChannelLimit) -> ChannelLimit {
        self.limits.get(channel.id.value.clone(), find)
    }

    /// The lowest class that a member of the plan has, by its place in the profile; none where none has a class of it.
    pub fn lowest_class(&self, plan: &Plan, profile: &Profile) -> Option<usize> {
        let place = |class: &str| profile.classes.iter().position(|known| known.id == class);
        let held = || plan.members.iter().filter_map(|member| place(member.class.as_ref()?.as_str())).min();
        *self.lowest_class.get_or_init(held)
    }

    /// The sun over a position on a day, the same way.
    pub fn sun(&self, clock: Clock, day: Day, at: &Position) -> Option<Sun> {
        self.suns.get((day, [at.latitude(), at.longitude()]), || sun(clock, day, at))
    }

    /// The duties of a member.
    pub fn duties_of<'a>(&self, plan: &'a Plan, member: &Id) -> Vec<&'a Duty> {
        picked(plan, self.duties(plan).of.get(member))
    }

    /// The duties at a post.
    pub fn duties_at<'a>(&self, plan: &'a Plan, post: &Id) -> Vec<&'a Duty> {
        picked(plan, self.duties(plan).at.get(post))
    }

    fn duties(&self, plan: &Plan) -> &Duties {
        self.duties.get_or_init(|| {
            let mut duties = Duties::default();
            for (place, duty) in plan.duties.iter().enumerate() {
                duties.of.entry((*duty.member.value).clone()).or_default().push(place);
                duties.at.entry((*duty.post.value).clone()).or_default().push(place);
            }
            duties
        })
    }
}

fn picked<'a>(plan: &'a Plan, places: Option<&Vec<usize>>) -> Vec<&'a Duty> {
    places.into_iter().flatten().filter_map(|place| plan.duties.get(*place)).collect()
}
