//! What the people of a shift at a post can do on the channels of its nets, for several rules: by law, and with their radios.

use super::Facts;
use super::amateur::{is_in_band, may_send_on, on_channel};
use super::post_watch::{Need, PostWatch, Present};
use crate::ground::{At, Day, Id, listed};
use crate::plan::{Channel, Clock, Duty, Member, Net, Period, Place, Plan, Post, Radio, Ref};
use crate::reckon::{self, Staff, Stand, at_once, can_hear, can_send, each_stretch, has_radios, radios_of, reached};
use std::collections::{BTreeMap, BTreeSet};

/// All shifts at all posts that lack something.
pub(super) fn watches<'a>(facts: Facts<'a>) -> Vec<PostWatch<'a>> {
    let staff = facts.staff();
    let mut of_nets: BTreeMap<&Id, Vec<Need<'a>>> = BTreeMap::new();
    let mut watches = Vec::new();
    for post in facts.plan.posts.iter() {
        let here: Vec<Stand<'a>> = staff.stands_at(&post.id.value).collect();
        let mut needs: Vec<Need<'a>> = Vec::new();
        let mut known: BTreeSet<&Id> = BTreeSet::new();
        for net in staff.nets_of(post).into_iter().filter(|_| !here.is_empty()) {
            let of_net = of_nets.entry(&net.id.value).or_insert_with(|| self::needs(facts, staff, net));
            needs.extend(of_net.iter().filter(|need| known.insert(&need.channel.id.value)));
        }
        let place = post.place.as_ref().and_then(|place| facts.plan.places.get(&place.value));
        let primaries = primaries(facts.plan, place, &staff.nets_of(post));
        if !needs.is_empty() {
            at_post(facts, (post, &here), (&needs, &primaries), &mut watches);
        }
    }
    watches
}

/// What a net needs, each channel once; without those on which nobody of the whole net may send.
fn needs<'a>(facts: Facts<'a>, staff: &Staff<'a>, net: &'a Net) -> Vec<Need<'a>> {
    let Some(crew) = crew_by_day(staff, net) else { return Vec::new() };
    let reached = reached(facts.plan, net).into_iter().filter(|reached| !is_silent(facts, &crew, reached.channel));
    reached.map(|reached| Need { channel: reached.channel, net, at: reached.at }).collect()
}

/// The members who work a net, with each day on which a duty of theirs in it begins or ends.
pub(super) fn crew_by_day<'a>(staff: &Staff<'a>, net: &'a Net) -> Option<Vec<Present<'a>>> {
    let crew = staff.crew(net)?;
    let mut days: BTreeMap<&Id, BTreeSet<Day>> = BTreeMap::new();
    for duty in staff.duties_of(net) {
        let both = [duty.from, duty.to].map(|time| Day::from_date(time.value.as_naive().date()));
        days.entry(&duty.member.value).or_default().extend(both);
    }
    let of = |member: &'a Member| days.get(&member.id.value).into_iter().flatten().map(move |day| (member, *day));
    Some(crew.into_iter().flat_map(of).collect())
}

/// Who stands at one time.
type People<'a> = Vec<&'a Ref<Member>>;

/// The primary channels of nets that are worked at once, each once: of those that take turns at the place, the first.
fn primaries<'a>(plan: &'a Plan, place: Option<&Place>, nets: &[&'a Net]) -> Vec<Need<'a>> {
    let take_turns = |one: &Channel, other: &Channel| {
        let has =
            |group: &Vec<At<Ref<Channel>>>, channel: &Channel| group.iter().any(|id| id.value == channel.id.value);
        place.is_some_and(|place| place.turns.iter().any(|group| has(group, one) && has(group, other)))
    };
    let mut primaries: Vec<Need<'a>> = Vec::new();
    for net in nets {
        let Some(leg) = net.legs.first() else { continue };
        let Some(channel) = plan.channels.get(&leg.channel) else { continue };
        let is_same = |need: &Need<'_>| need.channel.id.value == channel.id.value || take_turns(need.channel, channel);
        if !primaries.iter().any(is_same) {
            primaries.push(Need { channel, net, at: leg.channel.span });
        }
    }
    primaries
}

/// What people with too few radios work at once: a channel that none of their radios has is a finding of its own.
fn crowded<'a>(plan: &Plan, members: &[&Member], primaries: &[Need<'a>]) -> Option<(Vec<Need<'a>>, usize)> {
    let needs: Vec<Need<'a>> =
        primaries.iter().filter(|need| !is_without_radio(plan, members, need.channel)).copied().collect();
    let channels: Vec<&Channel> = needs.iter().map(|need| need.channel).collect();
    let count = at_once(plan, members, &channels).filter(|count| *count < channels.len())?;
    Some((needs, count))
}
/// When a shift lacks something, and what.
type Lacking<'a> = (Vec<Period>, PostWatch<'a>);

/// When the same people stand, with the same authority, and by which duties.
type Shift<'a> = (Vec<Period>, Vec<&'a Duty>);

fn at_post<'a>(
    facts: Facts<'a>,
    (post, here): (&'a Post, &[Stand<'a>]),
    (needs, primaries): (&[Need<'a>], &[Need<'a>]),
    watches: &mut Vec<PostWatch<'a>>,
) {
    let mut shifts: BTreeMap<(People<'a>, usize), Shift<'a>> = BTreeMap::new();
    each_stretch(facts.plan, here, |reckon::Watch { period, standing, era }| {
        let mut people: People<'_> = standing.iter().map(|stand| &stand.duty.member.value).collect();
        people.sort_unstable();
        people.dedup();
        let duties = || standing.iter().map(|stand| stand.duty).collect();
        shifts.entry((people, era)).or_insert_with(|| (Vec::new(), duties())).0.push(period);
        true
    });
    let clock = Clock::of(facts.plan);
    // The same people with the same lack again are the same shift: said once, with all its times.
    let mut lacking: BTreeMap<(People<'_>, Vec<&Id>), Lacking<'a>> = BTreeMap::new();
    for ((people, _), (periods, duties)) in shifts {
        let Some(day) = periods.first().map(|period| clock.day(period.from)) else { continue };
        let members = people.iter().map(|id| Some((facts.plan.members.get(id)?, day))).collect::<Option<Vec<_>>>();
        let Some(members) = members else { continue };
        let (silent, open): (Vec<Need<'a>>, Vec<Need<'a>>) =
            needs.iter().partition(|need| is_silent(facts, &members, need.channel));
        let own: Vec<&Member> = members.iter().map(|(member, _)| *member).collect();
        let lacks = |need: &Need<'a>| is_without_radio(facts.plan, &own, need.channel);
        let unequipped: Vec<Need<'a>> = open.into_iter().filter(lacks).collect();
        let crowded = crowded(facts.plan, &own, primaries);
        if !silent.is_empty() || !unequipped.is_empty() || crowded.is_some() {
            let key = (people, silent.iter().map(|need| &need.channel.id.value).collect());
            let watch = PostWatch { post, members, duties, when: String::new(), silent, unequipped, crowded };
            lacking.entry(key).or_insert_with(|| (Vec::new(), watch)).0.extend(periods);
        }
    }
    for (mut periods, watch) in lacking.into_values() {
        periods.sort_unstable();
        let joined = periods.into_iter().fold(Vec::new(), joined);
        let when = listed(&joined.into_iter().map(|period| clock.words(period)).collect::<Vec<_>>());
        watches.push(PostWatch { when, ..watch });
    }
}

/// Periods in order of time with one more; one that begins where the last ends makes it longer.
fn joined(mut periods: Vec<Period>, next: Period) -> Vec<Period> {
    match periods.last_mut() {
        Some(last) if last.to == next.from => last.to = next.to,
        _ => periods.push(next),
    }
    periods
}

/// Whether no one of `members` may send. An unknown class is a finding of its own, and that member may be the one who is
/// allowed; so is a channel that leaves its band, or that no class at all may send on.
pub(super) fn is_silent(facts: Facts<'_>, members: &[Present<'_>], channel: &Channel) -> bool {
    let is_amateur = channel.service.is_amateur();
    if is_amateur && channel.send.is_some() && !is_in_band(facts, channel) {
        return false;
    }
    let here = on_channel(facts, channel);
    if is_amateur && channel.send.is_some() && here.least().is_none() {
        return false;
    }
    members.iter().all(|present| may_send_on(facts, &here, *present) == Some(false))
}

/// Whether the plan lists radios for all of `members`, and among them none that hears the channel or none that sends there. What
/// is only listened to in another service is not judged: radios hear far beyond where they send.
fn is_without_radio(plan: &Plan, members: &[&Member], channel: &Channel) -> bool {
    let is_amateur = channel.service.is_amateur();
    if !has_radios(plan, members) || (!is_amateur && channel.send.is_none()) {
        return false;
    }
    let is_heard = !is_amateur || radios_of(plan, members).any(|radio: &Radio| can_hear(radio, channel));
    !is_heard || !radios_of(plan, members).any(|radio| can_send(radio, channel))
}
