//! A failure rehearsal: something is taken away, and everybody follows only what the own card says.
//!
//! From a net's primary channel one moves on when it is dead, as [`super::onward`] says. One stays where the channel lives and the
//! own radio hears it. Only people whose shifts overlap can meet; who is posted at a lost place is lost with it. Who may send is
//! asked for the day of the shift.

use super::crowds::{AtPost, Crowds, Ends, SearchEnd};
use super::{Apart, Eligibility, Loss, Met, OnChannel, Staff, Stand, Verdict, Whereabouts, hears, onward, runs, turns};
use crate::ground::{Day, Id};
use crate::plan::{Channel, Clock, Instant, Member, Net, Period, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// A net after a loss in a stretch of time with the same people: how many are where, and on demand who.
pub struct Rehearsed<'r, 'a> {
    rehearsal: &'r Rehearsal<'a>,
    crowds: Option<(Period, &'r Crowds<'r, 'a>)>,
    /// How many are where.
    pub standing: Whereabouts<'a>,
}

impl<'a> Rehearsed<'_, 'a> {
    /// Who is where, reckoned from who stands.
    #[must_use]
    pub fn met(&self) -> Met<'a> {
        match self.crowds {
            Some((when, crowds)) => self.rehearsal.met(when, &crowds.people()),
            None => Met::unnamed(self.rehearsal.leads),
        }
    }

    /// Whether the net is not together by a fault of the plan; of a net for which nobody is named nobody can say.
    #[must_use]
    pub fn is_fallen_apart(&self) -> bool {
        self.crowds.is_some() && self.standing.is_fallen_apart()
    }
}

/// A net after a loss, before its people are followed through time.
pub struct Rehearsal<'a> {
    plan: &'a Plan,
    /// Whether its primary channel is dead; else only people are lost.
    pub is_dead: bool,
    /// Where the cards lead, whoever follows them.
    leads: Option<&'a Channel>,
    stands: Vec<Stand<'a>>,
    /// How each member's search ends: it depends on the member's radios and not on the time.
    ends: Ends<'a>,
    /// Who may send on the channels where some search ends.
    verdicts: BTreeMap<&'a Id, OnChannel<'a>>,
    /// The posts that are lost.
    lost: BTreeSet<&'a Id>,
}

/// Prepares to let the people of a net follow their cards after a loss. None where neither the net's primary channel nor any of
/// its people are lost, or a duty of the net was refused.
#[must_use]
pub fn rehearse<'a>(rests_on: Eligibility<'a>, staff: &Staff<'a>, net: &'a Net, loss: &Loss) -> Option<Rehearsal<'a>> {
    let plan = rests_on.plan;
    let primary = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel))?;
    let is_dead = loss.dead.contains(&primary.id.value);
    let lost = staff.lost(net, loss);
    if !is_dead && lost.is_empty() {
        return None;
    }
    let members = staff.crew(net);
    if members.is_none() && staff.is_staffed(net) {
        return None;
    }
    let mut verdicts = BTreeMap::new();
    let mut search = |member: &'a Member| match walk(plan, (net, primary), Some(member), &loss.dead) {
        Walk::Ends(on) => {
            verdicts.entry(&on.id.value).or_insert_with(|| rests_on.on(on));
            SearchEnd::On(on)
        }
        Walk::Lost(last) => SearchEnd::Nowhere(last),
        Walk::Deaf(channel) => SearchEnd::Deaf(channel),
    };
    let members = members.unwrap_or_default().into_iter();
    let ends = members.map(|member| (&member.id.value, (member, search(member)))).collect();
    let leads = match walk(plan, (net, primary), None, &loss.dead) {
        Walk::Ends(channel) => Some(channel),
        Walk::Lost(_) | Walk::Deaf(_) => None,
    };
    let stands = staff.stands_of(net);
    Some(Rehearsal { plan, is_dead, leads, stands, ends, verdicts, lost })
}

impl<'a> Rehearsal<'a> {
    /// Goes through the stretches of time in which the loss changes something: where only people are lost, those in which some of
    /// them stand. Stops where `visit` says false.
    pub fn each_changed(&self, mut visit: impl FnMut(Rehearsed<'_, 'a>) -> bool) {
        if self.is_dead {
            return self.each(visit);
        }
        let is_lost = |stand: &&Stand<'_>| self.lost.contains(&*stand.duty.post.value);
        let lost: Vec<Period> = self.stands.iter().filter(is_lost).map(|stand| stand.period).collect();
        let lost = runs(&lost);
        let is_then = |stand: &&Stand<'_>| {
            let after = lost.partition_point(|period| period.to <= stand.period.from);
            lost.get(after).is_some_and(|period| period.meets(stand.period))
        };
        let stands: Vec<Stand<'a>> = self.stands.iter().filter(is_then).copied().collect();
        self.each_of(&stands, |here| here.standing.lost == 0 || visit(here));
    }

    /// Goes through the stretches of time in which the same people stand, in order. Stops where `visit` says false.
    pub fn each(&self, mut visit: impl FnMut(Rehearsed<'_, 'a>) -> bool) {
        if self.stands.is_empty() {
            // People are lost only where some are named.
            if self.is_dead {
                let standing = Whereabouts { on: self.leads, astray: 0, deaf: 0, lost: 0, stations: 0, was: 0 };
                visit(Rehearsed { rehearsal: self, crowds: None, standing });
            }
            return;
        }
        self.each_of(&self.stands, visit);
    }

    /// People come and go at the edges of their duties, and authority changes with a day: between two edges all is as it was. A stretch is
    /// visited when it ends.
    fn each_of(&self, stands: &[Stand<'a>], mut visit: impl FnMut(Rehearsed<'_, 'a>) -> bool) {
        let mut edges: BTreeMap<Instant, BTreeMap<AtPost<'a>, i64>> = BTreeMap::new();
        for stand in stands {
            let pair = (&*stand.duty.member.value, &*stand.duty.post.value);
            *edges.entry(stand.period.from).or_default().entry(pair).or_default() += 1;
            *edges.entry(stand.period.to).or_default().entry(pair).or_default() -= 1;
        }
        let turns = turns(self.plan, stands);
        for at in &turns {
            edges.entry(*at).or_default();
        }
        let mut crowds = Crowds::of(&self.ends, &self.lost);
        let mut from = None;
        for (at, comes) in &edges {
            if !turns.contains(at) && !crowds.are_others(comes) {
                crowds.take(comes);
                continue;
            }
            if let Some(from) = from.filter(|_| !crowds.is_empty()) {
                let when = Period { from, to: *at };
                let standing = crowds.standing(self.plan);
                if !visit(Rehearsed { rehearsal: self, crowds: Some((when, &crowds)), standing }) {
                    return;
                }
            }
            crowds.take(comes);
            from = Some(*at);
        }
    }

    /// What the plan says about when its people stand.
    #[must_use]
    pub fn stands(&self) -> &[Stand<'a>] {
        &self.stands
    }

    fn met(&self, when: Period, people: &[AtPost<'a>]) -> Met<'a> {
        let is_lost = |(_, post): &&(&Id, &Id)| self.lost.contains(*post);
        let lost: BTreeSet<&Id> = people.iter().filter(is_lost).map(|(member, _)| *member).collect();
        let left = |(member, _): &(&Member, SearchEnding<'_>)| !lost.contains(&member.id.value);
        let ends: Vec<(&'a Member, SearchEnding<'a>)> = self.ends_of(people).into_iter().filter(left).collect();
        let day = Clock::of(self.plan).day(when.from);
        let mut crowds: BTreeMap<&Id, usize> = BTreeMap::new();
        for (_, SearchEnding { end, .. }) in &ends {
            if let SearchEnd::On(channel) = end {
                *crowds.entry(&channel.id.value).or_default() += 1;
            }
        }
        // The largest crowd; of two alike the one whose channel has the later id, so that every run says the same.
        let on = crowds.iter().max_by_key(|(_, count)| **count).and_then(|(id, _)| self.plan.channels.named(id));
        let (mut present, mut listening, mut apart) = (Vec::new(), Vec::new(), Vec::new());
        for (member, ending) in ends {
            match ending.end {
                SearchEnd::On(channel) if on.is_some_and(|on| on.id.value == channel.id.value) => {
                    match self.sends(member, channel, (day, ending.is_shared)) {
                        true => present.push(member),
                        false => listening.push(member),
                    }
                }
                SearchEnd::On(channel) => apart.push((member, Apart::On(channel.name.to_string()))),
                SearchEnd::Nowhere(last) => apart.push((member, Apart::Nowhere(last.name.to_string()))),
                SearchEnd::Deaf(channel) => apart.push((member, Apart::Deaf(channel.name.to_string()))),
            }
        }
        let there: BTreeSet<&Id> = present.iter().chain(&listening).map(|member: &&Member| &member.id.value).collect();
        let left = stations(people.iter().filter(|(member, _)| there.contains(member)));
        let lost = lost.into_iter().filter_map(|id| self.ends.get(id)).map(|(member, _)| *member).collect();
        Met { when: Some(when), on, present, listening, apart, lost, stations: left, was: stations(people.iter()) }
    }

    /// How each one's search ends at that time: radios at one post are shared, so that one without the radio stays with the others.
    fn ends_of(&self, people: &[AtPost<'a>]) -> Vec<(&'a Member, SearchEnding<'a>)> {
        let own = || people.iter().filter_map(|(id, post)| Some((*post, *self.ends.get(*id)?)));
        let mut shared: BTreeMap<&Id, SearchEnd<'a>> = BTreeMap::new();
        for (post, (_, end)) in own().filter(|(_, (_, end))| !matches!(end, SearchEnd::Deaf(_))) {
            shared.entry(post).or_insert(end);
        }
        let mut ends: BTreeMap<&Id, (&'a Member, SearchEnding<'a>)> = BTreeMap::new();
        for (post, (member, end)) in own() {
            let with = shared.get(post).filter(|_| matches!(end, SearchEnd::Deaf(_)));
            let ending = SearchEnding { end: *with.unwrap_or(&end), is_shared: with.is_some() };
            let known = ends.entry(&member.id.value).or_insert((member, ending));
            if matches!(known.1.end, SearchEnd::Deaf(_)) {
                known.1 = ending;
            }
        }
        ends.into_values().collect()
    }

    /// Whether a member sends on a channel on that day; with a radio of others it is the law alone that is asked.
    fn sends(&self, member: &Member, channel: &Channel, (day, is_shared): (Day, bool)) -> bool {
        let verdict = self.verdicts.get(&channel.id.value).map(|here| here.verdict_on(member, Some(day)));
        verdict == Some(Verdict::Sends) || (is_shared && verdict == Some(Verdict::NoRadio))
    }
}

/// How many stations people at posts make: two at one post are one, and so is one at two.
fn stations<'b>(people: impl Iterator<Item = &'b (&'b Id, &'b Id)>) -> usize {
    let (members, posts): (BTreeSet<&Id>, BTreeSet<&Id>) = people.copied().unzip();
    members.len().min(posts.len())
}

/// The channels on which a net may be after a loss: where most of its people end or, where the plan does not say who works it,
/// where its cards lead. None where they lead nowhere.
#[must_use]
pub fn settles<'a>(rests_on: Eligibility<'a>, staff: &Staff<'a>, net: &'a Net, loss: &Loss) -> Vec<&'a Channel> {
    let plan = rests_on.plan;
    let mut on: BTreeMap<&Id, &Channel> = BTreeMap::new();
    if let Some(rehearsal) = rehearse(rests_on, staff, net, loss) {
        rehearsal.each(|here| {
            on.extend(here.standing.on.map(|channel| (&channel.id.value, channel)));
            true
        });
        return on.into_values().collect();
    }
    let Some(primary) = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel)) else { return Vec::new() };
    match walk(plan, (net, primary), None, &loss.dead) {
        Walk::Ends(channel) => vec![channel],
        Walk::Lost(_) | Walk::Deaf(_) => Vec::new(),
    }
}

/// The same at a time, with those at one post.
#[derive(Clone, Copy)]
struct SearchEnding<'a> {
    end: SearchEnd<'a>,
    /// Whether it is reached with a radio of others.
    is_shared: bool,
}

enum Walk<'a> {
    Ends(&'a Channel),
    Lost(&'a Channel),
    Deaf(&'a Channel),
}

fn walk<'a>(
    plan: &'a Plan,
    (net, primary): (&Net, &'a Channel),
    member: Option<&Member>,
    dead: &BTreeSet<Id>,
) -> Walk<'a> {
    let mut here = primary;
    let mut tried: BTreeSet<&Id> = BTreeSet::new();
    // A dead channel that the own radio lacks is passed over: the own card names the one after it, and when.
    let mut lacked = None;
    loop {
        let is_heard = member.is_none_or(|member| hears(plan, member, here));
        if !dead.contains(&here.id.value) {
            return if is_heard { Walk::Ends(here) } else { Walk::Deaf(here) };
        }
        lacked = lacked.or((!is_heard).then_some(here));
        tried.insert(&here.id.value);
        match onward(plan, net, here).filter(|next| !tried.contains(&next.id.value)) {
            Some(next) => here = next,
            None => return lacked.map_or(Walk::Lost(here), Walk::Deaf),
        }
    }
}
