//! Where the people of a net are after a loss while they come and go: kept from one duty to the next, so that no stretch of time is reckoned
//! from its beginning. How each one's search ends is known beforehand; at one post radios are shared.

use super::Whereabouts;
use crate::ground::Id;
use crate::plan::{Channel, Member, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// A member at a post.
pub(super) type AtPost<'a> = (&'a Id, &'a Id);

/// How somebody's search ends.
#[derive(Clone, Copy)]
pub(super) enum SearchEnd<'a> {
    On(&'a Channel),
    Nowhere(&'a Channel),
    Deaf(&'a Channel),
}

impl SearchEnd<'_> {
    /// Whether it needs a radio of others to be another.
    pub(super) const fn is_deaf(&self) -> bool {
        matches!(self, Self::Deaf(_))
    }
}

/// The members of a net with how their searches end.
pub(super) type Ends<'a> = BTreeMap<&'a Id, (&'a Member, SearchEnd<'a>)>;

/// As what somebody is counted.
#[derive(Clone, Copy)]
enum CountedAs<'a> {
    Lost,
    On(&'a Id),
    Nowhere,
    Deaf,
}

/// Who stands at one post.
#[derive(Default)]
struct Crew<'a> {
    /// Those whose own radio leads somewhere.
    hearing: BTreeSet<&'a Id>,
    deaf: BTreeSet<&'a Id>,
}

/// Who is on one channel: how many people, and at which posts how many of them.
#[derive(Default)]
struct ChannelCrowd<'a> {
    people: usize,
    posts: BTreeMap<&'a Id, usize>,
}

/// The people of a net who stand at one time, counted by where they are.
pub(super) struct Crowds<'r, 'a> {
    ends: &'r Ends<'a>,
    /// The posts that are lost.
    lost: &'r BTreeSet<&'a Id>,
    /// How many duties put a member at a post.
    pairs: BTreeMap<AtPost<'a>, i64>,
    posts_of: BTreeMap<&'a Id, BTreeSet<&'a Id>>,
    crews: BTreeMap<&'a Id, Crew<'a>>,
    /// As what each one is counted, and at which posts.
    counted: BTreeMap<&'a Id, (CountedAs<'a>, Vec<&'a Id>)>,
    on: BTreeMap<&'a Id, ChannelCrowd<'a>>,
    /// Channels by how many are on them: of two alike the later id comes last.
    by_size: BTreeSet<(usize, &'a Id)>,
    /// How many are lost, on a channel, at the end of what the card says, and without a radio.
    sums: [usize; 4],
}

impl<'r, 'a> Crowds<'r, 'a> {
    /// Nobody yet.
    pub(super) fn of(ends: &'r Ends<'a>, lost: &'r BTreeSet<&'a Id>) -> Self {
        Self {
            ends,
            lost,
            pairs: BTreeMap::new(),
            posts_of: BTreeMap::new(),
            crews: BTreeMap::new(),
            counted: BTreeMap::new(),
            on: BTreeMap::new(),
            by_size: BTreeSet::new(),
            sums: [0; 4],
        }
    }

    /// Whether people who come and go make others stand where: one who goes on makes none.
    pub(super) fn are_others(&self, comes: &BTreeMap<AtPost<'a>, i64>) -> bool {
        comes.iter().any(|(pair, more)| {
            let before = self.pairs.get(pair).copied().unwrap_or(0);
            (before > 0) != (before + more > 0)
        })
    }

    /// Whether anybody stands.
    pub(super) fn is_empty(&self) -> bool {
        self.pairs.is_empty()
    }

    /// Who stands where, in order.
    pub(super) fn people(&self) -> Vec<AtPost<'a>> {
        self.pairs.keys().copied().collect()
    }

    /// Counts who comes and goes.
    pub(super) fn take(&mut self, comes: &BTreeMap<AtPost<'a>, i64>) {
        for (pair, more) in comes {
            let before = self.pairs.get(pair).copied().unwrap_or(0);
            let after = before + more;
            if after > 0 {
                self.pairs.insert(*pair, after);
            } else {
                self.pairs.remove(pair);
            }
            if (before > 0) != (after > 0) {
                self.change(*pair, after > 0);
            }
        }
    }

    /// One comes to a post or leaves it. Those there who hear by the radio of another are counted again where that is another now.
    fn change(&mut self, (member, post): AtPost<'a>, comes: bool) {
        let is_deaf = self.ends.get(member).is_none_or(|(_, end)| end.is_deaf());
        let crew = self.crews.entry(post).or_default();
        let first = crew.hearing.first().copied();
        let same = if is_deaf { &mut crew.deaf } else { &mut crew.hearing };
        let _ = if comes { same.insert(member) } else { same.remove(member) };
        let is_other = first != crew.hearing.first().copied();
        let others: Vec<&'a Id> = if is_other { crew.deaf.iter().copied().collect() } else { Vec::new() };
        if crew.hearing.is_empty() && crew.deaf.is_empty() {
            self.crews.remove(post);
        }
        let own = self.posts_of.entry(member).or_default();
        let _ = if comes { own.insert(post) } else { own.remove(post) };
        if own.is_empty() {
            self.posts_of.remove(member);
        }
        for one in others.into_iter().filter(|one| *one != member).chain([member]) {
            self.recount(one);
        }
    }

    fn recount(&mut self, member: &'a Id) {
        if let Some((as_what, posts)) = self.counted.remove(member) {
            self.count(as_what, &posts, false);
        }
        let Some(posts) = self.posts_of.get(member) else { return };
        let posts: Vec<&'a Id> = posts.iter().copied().collect();
        let as_what = match self.ending(member, &posts) {
            _ if posts.iter().any(|post| self.lost.contains(*post)) => CountedAs::Lost,
            Some(SearchEnd::On(channel)) => CountedAs::On(&channel.id.value),
            Some(SearchEnd::Nowhere(_)) => CountedAs::Nowhere,
            Some(SearchEnd::Deaf(_)) => CountedAs::Deaf,
            None => return,
        };
        self.count(as_what, &posts, true);
        self.counted.insert(member, (as_what, posts));
    }

    /// How a search ends with the radios at the posts: without one of one's own as it does for the first there who has one.
    fn ending(&self, member: &Id, posts: &[&'a Id]) -> Option<SearchEnd<'a>> {
        let (_, own) = self.ends.get(member)?;
        let by_others = || posts.iter().find_map(|post| self.crews.get(post)?.hearing.first());
        match own {
            SearchEnd::Deaf(_) => {
                by_others().and_then(|one| self.ends.get(one)).map_or(Some(*own), |(_, end)| Some(*end))
            }
            SearchEnd::On(_) | SearchEnd::Nowhere(_) => Some(*own),
        }
    }

    fn count(&mut self, as_what: CountedAs<'a>, posts: &[&'a Id], comes: bool) {
        let step = |count: &mut usize| *count = if comes { *count + 1 } else { count.saturating_sub(1) };
        let [lost, on, nowhere, deaf] = &mut self.sums;
        let channel = match as_what {
            CountedAs::Lost => return step(lost),
            CountedAs::Nowhere => return step(nowhere),
            CountedAs::Deaf => return step(deaf),
            CountedAs::On(channel) => channel,
        };
        step(on);
        let crowd = self.on.entry(channel).or_default();
        self.by_size.remove(&(crowd.people, channel));
        step(&mut crowd.people);
        for post in posts {
            let there = crowd.posts.entry(post).or_default();
            step(there);
            if *there == 0 {
                crowd.posts.remove(post);
            }
        }
        if crowd.people > 0 {
            self.by_size.insert((crowd.people, channel));
        } else {
            self.on.remove(channel);
        }
    }

    /// Where they are, and how many.
    pub(super) fn standing(&self, plan: &'a Plan) -> Whereabouts<'a> {
        let [lost, on, nowhere, deaf] = self.sums;
        let largest = self.by_size.last().and_then(|(_, channel)| self.on.get(channel));
        let people = largest.map_or(0, |crowd| crowd.people);
        Whereabouts {
            on: self.by_size.last().and_then(|(_, channel)| plan.channels.named(channel)),
            astray: on - people + nowhere,
            deaf,
            lost,
            stations: largest.map_or(0, |crowd| crowd.people.min(crowd.posts.len())),
            was: self.posts_of.len().min(self.crews.len()),
        }
    }
}
