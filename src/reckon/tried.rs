//! What trials on the air say of a net's channels: a path as tried counts before every reckoning.

use super::reached;
use crate::ground::{Id, Span};
use crate::plan::{Channel, Heard, Net, PathTest, Place, Plan, Post};
use std::collections::{BTreeMap, BTreeSet};

/// The last trial of each path, found once for a plan.
pub struct PathTrials<'a> {
    plan: &'a Plan,
    /// By from and to, then channel; of trials of one day the later in the plan.
    last: BTreeMap<(&'a Id, &'a Id), BTreeMap<&'a Id, &'a PathTest>>,
    /// Those in which nothing was heard, by channel and by each of the two places.
    unheard: BTreeMap<(&'a Id, &'a Id), Vec<&'a PathTest>>,
    /// The posts of a net by net and place, whoever controls it or would included.
    posts: BTreeMap<(&'a Id, &'a Id), BTreeSet<&'a Id>>,
}

/// Who controls a net, or takes it over, and a post of it, between which nothing was heard on a channel of the net.
pub struct Unheard<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// `alternate channel`, `next channel after CMD 1`.
    pub what: String,
    /// Where the plan sends the net there.
    pub at: Span,
    /// The post that controls the net, or the one that takes it over.
    pub control: &'a Post,
    /// The post at the other end.
    pub post: &'a Post,
    /// The last trial between their places.
    pub test: &'a PathTest,
}

impl<'a> PathTrials<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        let mut last: BTreeMap<(&Id, &Id), BTreeMap<&Id, &PathTest>> = BTreeMap::new();
        for test in &plan.path_tests {
            let path = last.entry((&test.from.value, &test.to.value)).or_default();
            let known = path.entry(&test.channel.value).or_insert(test);
            if known.on.value <= test.on.value {
                *known = test;
            }
        }
        let mut unheard: BTreeMap<(&Id, &Id), Vec<&PathTest>> = BTreeMap::new();
        for ((from, to), tests) in last.iter().filter(|((from, to), _)| from != to) {
            for (channel, test) in tests.iter().filter(|(_, test)| test.result.value == Heard::Nothing) {
                unheard.entry((*channel, *from)).or_default().push(test);
                unheard.entry((*channel, *to)).or_default().push(test);
            }
        }
        let mut posts: BTreeMap<(&Id, &Id), BTreeSet<&Id>> = BTreeMap::new();
        let place = |post: &'a Post| post.place.as_ref().map(|place| &*place.value);
        for (post, place) in plan.posts.iter().filter_map(|post| Some((post, place(post)?))) {
            for net in &post.nets {
                posts.entry((&net.value, place)).or_default().insert(&post.id.value);
            }
        }
        for net in plan.nets.iter() {
            for (post, place) in controls(plan, net).filter_map(|post| Some((post, place(post)?))) {
                posts.entry((&net.id.value, place)).or_default().insert(&post.id.value);
            }
        }
        Self { plan, last, unheard, posts }
    }

    /// Between whom nothing was heard on the channels of a net, each pair once on a channel, in the order in which the channels are
    /// tried. A channel that is not on the air is passed over, as the net passes it.
    #[must_use]
    pub fn unheard_of(&self, net: &'a Net) -> Vec<Unheard<'a>> {
        let mut all = Vec::new();
        let mut seen: BTreeSet<(&Id, &Id, &Id)> = BTreeSet::new();
        for leg in reached(self.plan, net).into_iter().filter(|leg| leg.channel.is_on_air()) {
            for control in controls(self.plan, net) {
                let Some(place) = control.place.as_ref() else { continue };
                for test in self.unheard_at(&leg.channel.id.value, &place.value) {
                    let (from, to): (&'a Id, &'a Id) = (&test.from.value, &test.to.value);
                    let other = if *from == *place.value { to } else { from };
                    for post in self.posts.get(&(&net.id.value, other)).into_iter().flatten() {
                        let Some(post) = self.plan.posts.named(post) else { continue };
                        let (one, two) = (&control.id.value, &post.id.value);
                        let pair = (&leg.channel.id.value, one.min(two), one.max(two));
                        if one != two && seen.insert(pair) {
                            let what = leg.what.clone();
                            all.push(Unheard { channel: leg.channel, what, at: leg.at, control, post, test });
                        }
                    }
                }
            }
        }
        all
    }

    /// The trials on a channel, from a place or to it, in which nothing was heard when it was last tried.
    #[must_use]
    pub fn unheard_at(&self, channel: &'a Id, place: &'a Id) -> &[&'a PathTest] {
        self.unheard.get(&(channel, place)).map_or(&[], Vec::as_slice)
    }

    /// A channel that both places hear by its last trial, and that trial: the first by id that the net does not have.
    #[must_use]
    pub fn heard_between(&self, net: &Net, test: &'a PathTest) -> Option<(&'a Channel, &'a PathTest)> {
        let (from, to): (&'a Id, &'a Id) = (&test.from.value, &test.to.value);
        let ways: Vec<&BTreeMap<&Id, &PathTest>> =
            [(from, to), (to, from)].iter().filter_map(|way| self.last.get(way)).collect();
        let channels: BTreeSet<&Id> = ways.iter().flat_map(|way| way.keys().copied()).collect();
        let is_of_net = |id: &Id| net.legs.iter().any(|leg| *leg.channel.value == *id);
        channels.into_iter().filter(|id| !is_of_net(id)).find_map(|id| {
            let channel = self.plan.channels.named(id).filter(|channel| channel.is_on_air())?;
            let mut tests = ways.iter().filter_map(|way| way.get(id).copied());
            let first = tests.next()?;
            let is_heard = |test: &PathTest| test.result.value != Heard::Nothing;
            (is_heard(first) && tests.all(is_heard)).then_some((channel, first))
        })
    }
}

/// The post that controls a net, then the one that takes it over.
fn controls<'a>(plan: &'a Plan, net: &'a Net) -> impl Iterator<Item = &'a Post> {
    [&net.control, &net.alternate_control].into_iter().flatten().filter_map(|post| plan.posts.get(&post.value))
}

/// `from Saint Brenn nothing was heard at Blood Bank, tried 2027-08-14 with 25 W`.
#[must_use]
pub fn unheard_words(plan: &Plan, test: &PathTest) -> String {
    let name = |id| plan.places.get(id).map_or_else(String::new, |place: &Place| place.tactical.to_string());
    let power = test.power.map(|power| format!(" with {}", power.value)).unwrap_or_default();
    format!(
        "from {} nothing was heard at {}, tried {}{power}",
        name(&test.from.value),
        name(&test.to.value),
        test.on.value
    )
}
