//! A failure rehearsal: something is taken away, and everybody follows only what the own card says.
//!
//! From a net's primary channel one moves on when it is dead, as [`super::onward`] says. One stays where the channel lives and the
//! own radio hears it. Only people whose shifts overlap can meet; who is posted at a lost place is lost with it.

use super::{Eligibility, Loss, OnChannel, Period, Stand, Verdict, can_hear, each_stretch, onward, stands};
use crate::ground::Id;
use crate::plan::{Channel, Duty, Member, Net, Plan, Post, Service};
use std::collections::{BTreeMap, BTreeSet};

/// Where a net is after a loss, in a stretch of time with the same people.
#[derive(Clone)]
pub struct Met<'a> {
    /// From when to when; none where the plan names nobody who works the net.
    pub when: Option<Period>,
    /// Where most of its people are or, where nobody is named, where its cards lead; none where nobody finds a channel that lives.
    pub on: Option<&'a Channel>,
    /// Who sends there.
    pub present: Vec<&'a Member>,
    /// Who hears it but may not send, or cannot.
    pub listening: Vec<&'a Member>,
    /// Who is elsewhere or nowhere.
    pub apart: Vec<(&'a Member, Apart)>,
    /// Who was posted at the place that is lost.
    pub lost: Vec<&'a Member>,
    /// How many stations are there: posts, or people where these are fewer.
    pub stations: usize,
    /// How many there were before the loss.
    pub was: usize,
}

/// What becomes of a net after a loss.
#[derive(Clone, Copy)]
pub enum Outcome<'a> {
    /// Two stations or more hear each other there, one person at least may send.
    Meets(&'a Channel),
    /// Two stations or more are there, and nobody may send.
    Silent(&'a Channel),
    /// One station is there alone, with nobody to talk to.
    Alone(&'a Channel),
    /// Nobody finds a channel that lives.
    Nowhere,
    /// All its people are lost with the place.
    Gone,
    /// The plan names nobody: only where its cards lead is known.
    Unnamed(Option<&'a Channel>),
}

impl<'a> Met<'a> {
    /// What becomes of the net.
    #[must_use]
    pub fn outcome(&self) -> Outcome<'a> {
        match self.on {
            on if self.when.is_none() => Outcome::Unnamed(on),
            None if self.apart.is_empty() => Outcome::Gone,
            None => Outcome::Nowhere,
            Some(on) if self.stations < 2 => Outcome::Alone(on),
            Some(on) if self.present.is_empty() => Outcome::Silent(on),
            Some(on) => Outcome::Meets(on),
        }
    }
}

/// Where somebody is who is not with the net.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Apart {
    /// On another channel that lives.
    On(String),
    /// At the end of what the card says; the last channel tried.
    Nowhere(String),
    /// Sent to a channel that nobody's radio at the own post hears.
    Deaf(String),
}

impl Apart {
    /// In words after a name: `is on TAC 1`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::On(channel) => format!("is on {channel}"),
            Self::Nowhere(channel) => format!("finds nothing after {channel}"),
            Self::Deaf(channel) => format!("has no radio for {channel}"),
        }
    }
}

/// The members who work a net: those with a duty at a post of the net or at its control post. None where no duty is
/// written for it, or a duty's member or post was refused, so that nothing can be said.
#[must_use]
pub fn crew<'a>(plan: &'a Plan, net: &Net) -> Option<Vec<&'a Member>> {
    let duties: Vec<&Duty> = plan.duties.iter().filter(|duty| works(plan, net, &duty.post)).collect();
    if duties.is_empty() || !plan.posts.is_whole() {
        return None;
    }
    let mut members = Vec::new();
    for duty in duties {
        members.push(plan.members.get(&duty.member)?);
    }
    members.sort_by(|a, b| a.id.value.cmp(&b.id.value));
    members.dedup_by(|a, b| a.id.value == b.id.value);
    Some(members)
}

/// Whether a net is worked from a post: it is one of the post's nets, or the post controls it.
#[must_use]
pub fn works(plan: &Plan, net: &Net, post: &Id) -> bool {
    let is_control = net.control.as_ref().is_some_and(|control| control.value == *post);
    let post = plan.posts.get(post);
    is_control || post.is_some_and(|post| post.nets.iter().any(|id| id.value == net.id.value))
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
    ends: BTreeMap<&'a Id, (&'a Member, End<'a>)>,
    /// Who may send on the channels where some search ends.
    verdicts: BTreeMap<&'a Id, OnChannel<'a>>,
    /// The posts that are lost.
    lost: BTreeSet<&'a Id>,
}

/// Prepares to let the people of a net follow their cards after a loss. None where neither the net's primary channel nor any of
/// its people are lost, or a duty of the net was refused.
#[must_use]
pub fn rehearse<'a>(rests_on: Eligibility<'a>, net: &'a Net, loss: &Loss) -> Option<Rehearsal<'a>> {
    let plan = rests_on.plan;
    let primary = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel))?;
    let is_dead = loss.dead.contains(&primary.id.value);
    let is_lost =
        |post: &&Post| loss.place.is_some() && post.place.as_ref().map(|place| &place.value) == loss.place.as_ref();
    let is_own = |post: &&Post| works(plan, net, &post.id.value);
    let lost: BTreeSet<&Id> = plan.posts.iter().filter(is_lost).filter(is_own).map(|post| &post.id.value).collect();
    if !is_dead && lost.is_empty() {
        return None;
    }
    let members = crew(plan, net);
    if members.is_none() && plan.duties.iter().any(|duty| works(plan, net, &duty.post)) {
        return None;
    }
    let mut verdicts = BTreeMap::new();
    let mut ends = BTreeMap::new();
    for member in members.unwrap_or_default() {
        let end = match walk(plan, (net, primary), Some(member), &loss.dead) {
            Walk::Ends(on) => {
                let here = verdicts.entry(&on.id.value).or_insert_with(|| rests_on.on(on));
                End::On(on, here.verdict(member) == Verdict::Sends)
            }
            Walk::Lost(last) => End::Nowhere(last),
            Walk::Deaf(channel) => End::Deaf(channel),
        };
        ends.insert(&member.id.value, (member, end));
    }
    let leads = match walk(plan, (net, primary), None, &loss.dead) {
        Walk::Ends(channel) => Some(channel),
        Walk::Lost(_) | Walk::Deaf(_) => None,
    };
    let stands = stands(plan).into_iter().filter(|stand| works(plan, net, &stand.duty.post)).collect();
    Some(Rehearsal { plan, is_dead, leads, stands, ends, verdicts, lost })
}

impl<'a> Rehearsal<'a> {
    /// Goes through the stretches of time in which the same people stand, in order. Stops where `visit` says false.
    pub fn each(&self, mut visit: impl FnMut(Met<'a>) -> bool) {
        if self.stands.is_empty() {
            // People are lost only where some are named.
            if self.is_dead {
                visit(Met {
                    when: None,
                    on: self.leads,
                    present: Vec::new(),
                    listening: Vec::new(),
                    apart: Vec::new(),
                    lost: Vec::new(),
                    stations: 0,
                    was: 0,
                });
            }
            return;
        }
        let mut last: Option<(Period, Vec<(&'a Id, &'a Id)>)> = None;
        let mut goes_on = true;
        each_stretch(&self.stands, |period, standing| {
            let mut people: Vec<(&'a Id, &'a Id)> =
                standing.iter().map(|stand| (&stand.duty.member.value, &stand.duty.post.value)).collect();
            people.sort_unstable();
            people.dedup();
            match &mut last {
                Some((when, same)) if when.to == period.from && *same == people => when.to = period.to,
                last => {
                    if let Some((when, people)) = last.replace((period, people)) {
                        goes_on = visit(self.met(when, &people));
                    }
                }
            }
            goes_on
        });
        if let Some((when, people)) = last.filter(|_| goes_on) {
            visit(self.met(when, &people));
        }
    }

    /// What the plan says about when its people stand.
    #[must_use]
    pub fn stands(&self) -> &[Stand<'a>] {
        &self.stands
    }

    fn met(&self, when: Period, people: &[(&'a Id, &'a Id)]) -> Met<'a> {
        let is_lost = |(_, post): &&(&Id, &Id)| self.lost.contains(*post);
        let lost: BTreeSet<&Id> = people.iter().filter(is_lost).map(|(member, _)| *member).collect();
        let left: BTreeSet<&Id> = people.iter().map(|(member, _)| *member).filter(|id| !lost.contains(id)).collect();
        let ends: Vec<(&'a Member, End<'a>)> = left.iter().filter_map(|id| self.end(id, people)).collect();
        let mut crowds: BTreeMap<&Id, usize> = BTreeMap::new();
        for (_, end) in &ends {
            if let End::On(channel, _) = end {
                *crowds.entry(&channel.id.value).or_default() += 1;
            }
        }
        // The largest crowd; of two alike the one whose channel has the later id, so that every run says the same.
        let on = crowds.iter().max_by_key(|(_, count)| **count).and_then(|(id, _)| self.plan.channels.get(id));
        let (mut present, mut listening, mut apart) = (Vec::new(), Vec::new(), Vec::new());
        for (member, end) in ends {
            match end {
                End::On(channel, sends) if on.is_some_and(|on| on.id.value == channel.id.value) => {
                    if sends {
                        present.push(member)
                    } else {
                        listening.push(member)
                    }
                }
                End::On(channel, _) => apart.push((member, Apart::On(channel.name.to_string()))),
                End::Nowhere(last) => apart.push((member, Apart::Nowhere(last.name.to_string()))),
                End::Deaf(channel) => apart.push((member, Apart::Deaf(channel.name.to_string()))),
            }
        }
        let lost = lost.into_iter().filter_map(|id| self.ends.get(id)).map(|(member, _)| *member).collect();
        let there: BTreeSet<&Id> = present.iter().chain(&listening).map(|member: &&Member| &member.id.value).collect();
        let posts: BTreeSet<&Id> = people.iter().filter(|(id, _)| there.contains(id)).map(|(_, post)| *post).collect();
        let all_posts: BTreeSet<&Id> = people.iter().map(|(_, post)| *post).collect();
        let all: BTreeSet<&Id> = people.iter().map(|(member, _)| *member).collect();
        Met {
            when: Some(when),
            on,
            present,
            listening,
            apart,
            lost,
            stations: there.len().min(posts.len()),
            was: all.len().min(all_posts.len()),
        }
    }

    /// How a member's search ends at that time: radios at one post are shared, so that one without the radio stays with the others.
    fn end(&self, id: &Id, people: &[(&'a Id, &'a Id)]) -> Option<(&'a Member, End<'a>)> {
        let (member, end) = *self.ends.get(id)?;
        if !matches!(end, End::Deaf(_)) {
            return Some((member, end));
        }
        let is_own = |post: &Id| people.iter().any(|(other, theirs)| *other == id && *theirs == post);
        let mates = people.iter().filter(|(_, post)| is_own(post)).filter_map(|(mate, _)| self.ends.get(*mate));
        let with = mates.map(|(_, end)| *end).find(|end| !matches!(end, End::Deaf(_)));
        Some((
            member,
            match with {
                Some(End::On(channel, _)) => End::On(channel, self.may_send(member, channel)),
                Some(other) => other,
                None => end,
            },
        ))
    }

    /// Whether the law lets a member send on a channel, with a radio of others.
    fn may_send(&self, member: &Member, channel: &Channel) -> bool {
        let verdict = self.verdicts.get(&channel.id.value).map(|here| here.verdict(member));
        matches!(verdict, Some(Verdict::Sends | Verdict::NoRadio))
    }
}

/// The channels on which a net may be after a loss: where most of its people end or, where the plan does not say who works it,
/// where its cards lead. None where they lead nowhere.
#[must_use]
pub fn settles<'a>(rests_on: Eligibility<'a>, net: &'a Net, loss: &Loss) -> Vec<&'a Channel> {
    let plan = rests_on.plan;
    let mut on: BTreeMap<&Id, &Channel> = BTreeMap::new();
    if let Some(rehearsal) = rehearse(rests_on, net, loss) {
        rehearsal.each(|met| {
            on.extend(met.on.map(|channel| (&channel.id.value, channel)));
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

/// How many posts work any of the nets.
#[must_use]
pub fn posts_of(plan: &Plan, nets: &[&Net]) -> usize {
    let works = |post: &&Post| post.nets.iter().any(|id| nets.iter().any(|net| net.id.value == id.value));
    plan.posts.iter().filter(works).count()
}

/// How somebody's search ends: the channel, and whether one may send there.
#[derive(Clone, Copy)]
enum End<'a> {
    On(&'a Channel, bool),
    Nowhere(&'a Channel),
    Deaf(&'a Channel),
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
    loop {
        if member.is_some_and(|member| !hears(plan, member, here)) {
            return Walk::Deaf(here);
        }
        if !dead.contains(&here.id.value) {
            return Walk::Ends(here);
        }
        tried.insert(&here.id.value);
        match onward(plan, net, here).filter(|next| !tried.contains(&next.id.value)) {
            Some(next) => here = next,
            None => return Walk::Lost(here),
        }
    }
}

/// Whether an own radio hears a channel. Who has none in the plan is not judged, nor is a channel of another service, which takes
/// a radio of its own that the plan does not list.
fn hears(plan: &Plan, member: &Member, channel: &Channel) -> bool {
    let mut radios = member.radios.iter().filter_map(|id| plan.radios.get(id)).peekable();
    let is_judged = channel.service.value == Service::Amateur && radios.peek().is_some();
    !is_judged || radios.any(|radio| can_hear(radio, channel))
}
