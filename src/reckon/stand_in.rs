//! Who could stand a post when nobody does: free and rested then, and able to work each of its nets by law and with an own radio.

use super::{Eligibility, MuchDuty, OnChannel, Staff, Verdict};
use crate::ground::{Day, Id};
use crate::plan::{Clock, Instant, Member, Net, Period, Post};
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;

/// How many are named.
const NAMED: usize = 3;
/// The most parts in which a time is given to several: more of them are a plan to be made.
const PARTS: usize = 3;

/// In a plan of more members than these nobody is looked for who could stand a part of a time, or comes nearest to the rest: each gap would
/// ask all of them.
const SEARCHED: usize = 300;

/// All members by what they could stand.
pub struct StandIns<'a> {
    rests_on: Eligibility<'a>,
    /// How much duty is too much.
    limits: MuchDuty,
    /// When each member stands, in order of time.
    busy: BTreeMap<&'a Id, Vec<Period>>,
    /// All members, those with the least duty first.
    asked: OnceCell<Vec<&'a Member>>,
    /// Members who can work nets on a day.
    fit: RefCell<BTreeMap<Asked<'a>, Fit<'a>>>,
}

/// Who can work nets on a day, as far as anybody wanted to know: a few are named of thousands.
struct Fit<'a> {
    of_nets: Vec<Vec<OnChannel<'a>>>,
    day: Day,
    /// In the order in which they were asked.
    members: Vec<&'a Member>,
    /// How many were asked.
    next: usize,
}

/// Nets that are worked at once, and the day.
type Asked<'a> = (Vec<&'a Id>, Day);

impl<'a> StandIns<'a> {
    /// Of a plan; the days on which licences must run are those of duty.
    #[must_use]
    pub fn of(rests_on: Eligibility<'a>) -> Self {
        let plan = rests_on.plan;
        let mut busy: BTreeMap<&Id, Vec<Period>> = BTreeMap::new();
        for stand in super::stands(plan) {
            busy.entry(&stand.duty.member.value).or_default().push(stand.period);
        }
        let limits = MuchDuty::of(plan);
        Self { rests_on, limits, busy, asked: OnceCell::new(), fit: RefCell::default() }
    }

    /// The first who could stand a post for some time; none where it is longer than anybody stands at a stretch.
    #[must_use]
    pub fn for_post(&self, post: &'a Post, staff: &Staff<'a>, gap: Period) -> Vec<&'a Member> {
        let mut free = Vec::new();
        if !self.is_too_long(gap) {
            self.each_fit(post, staff, gap, |member| {
                free.extend((self.off_around(member, gap) >= self.limits.rest.most).then_some(member));
                free.len() < NAMED
            });
        }
        free
    }

    /// Asks those who can work the nets of a post, one after the other, as long as more are wanted.
    fn each_fit(&self, post: &'a Post, staff: &Staff<'a>, gap: Period, mut ask: impl FnMut(&'a Member) -> bool) {
        let (nets, day) = (staff.nets_of(post), Clock::of(self.rests_on.plan).day(gap.to));
        let key = (nets.iter().map(|net| &net.id.value).collect(), day);
        let mut all = self.fit.borrow_mut();
        let fit = all.entry(key).or_insert_with(|| Fit::of(self.rests_on, &nets, day));
        for place in 0.. {
            if !fit.at(place, self.asked()).is_some_and(&mut ask) {
                return;
            }
        }
    }

    /// Who could stand a time in parts, one after the other, each with the rest before and after that the plan wants: whoever can stay longest
    /// comes next. None where that leaves some of it to nobody, or takes more than a few.
    #[must_use]
    pub fn in_parts(&self, post: &'a Post, staff: &Staff<'a>, gap: Period) -> Vec<(&'a Member, Period)> {
        if !self.is_searched() {
            return Vec::new();
        }
        let rest = self.limits.rest.most;
        let mut windows: Vec<(&'a Member, Period)> = Vec::new();
        self.each_fit(post, staff, gap, |member| {
            windows.extend(self.free_in(member, gap).into_iter().map(|window| (member, window)));
            true
        });
        let (mut parts, mut at): (Vec<(&Member, Period)>, Instant) = (Vec::new(), gap.from);
        while at < gap.to && parts.len() < PARTS {
            // Who has stood a part before rests first.
            let is_rested = |member: &Member| {
                let own = parts.iter().filter(|(known, _)| known.id.value == member.id.value);
                own.map(|(_, part)| part.to.minutes_to(at)).all(|off| off >= rest)
            };
            let mut longest: Option<(&Member, Instant)> = None;
            for (member, window) in windows.iter().filter(|(member, window)| window.from <= at && is_rested(member)) {
                let until = window.to.min(at.after(self.limits.longest.most));
                if until > longest.map_or(at, |(_, until)| until) {
                    longest = Some((member, until));
                }
            }
            let Some((member, until)) = longest else { return Vec::new() };
            parts.push((member, Period { from: at, to: until }));
            at = until;
        }
        if at < gap.to { Vec::new() } else { parts }
    }

    /// The stretches of a time in which a member could stand, rested from the duties around them.
    fn free_in(&self, member: &Member, gap: Period) -> Vec<Period> {
        let rest = self.limits.rest.most;
        let (mut free, mut from) = (Vec::new(), gap.from);
        for period in self.busy.get(&member.id.value).into_iter().flatten() {
            let to = period.from.after(rest.saturating_neg()).min(gap.to);
            if from < to {
                free.push(Period { from, to });
            }
            from = from.max(period.to.after(rest));
        }
        if from < gap.to {
            free.push(Period { from, to: gap.to });
        }
        free
    }

    /// Who of those that can work the nets of a post rests longest around a time in which they are free, with the minutes off on the side
    /// that has fewer. None where the time is too long for anybody, and where nobody is free then.
    #[must_use]
    pub fn most_rested(&self, post: &'a Post, staff: &Staff<'a>, gap: Period) -> Option<(&'a Member, i64)> {
        if !self.is_searched() {
            return None;
        }
        let mut most: Option<(&'a Member, i64)> = None;
        self.each_fit(post, staff, gap, |member| {
            let off = self.off_around(member, gap);
            if off > most.map_or(-1, |(_, most)| most) {
                most = Some((member, off));
            }
            true
        });
        most.filter(|_| !self.is_too_long(gap))
    }

    /// Minutes that a member is off before a time or after it, whichever are fewer; nothing where a duty lies in it.
    fn off_around(&self, member: &Member, gap: Period) -> i64 {
        let own = self.busy.get(&member.id.value).into_iter().flatten();
        let off = |period: &Period| period.to.minutes_to(gap.from).max(gap.to.minutes_to(period.from));
        own.map(off).min().unwrap_or(i64::MAX)
    }

    /// Whether the plan has so few members that all are asked about parts of a time.
    #[must_use]
    pub fn is_searched(&self) -> bool {
        self.rests_on.plan.members.iter().nth(SEARCHED).is_none()
    }

    /// The minutes off that are wanted around a duty.
    #[must_use]
    pub const fn rest(&self) -> i64 {
        self.limits.rest.most
    }

    /// Whether a time is longer than anybody stands at a stretch.
    #[must_use]
    pub fn is_too_long(&self, gap: Period) -> bool {
        gap.from.minutes_to(gap.to) > self.limits.longest.most
    }

    /// Members in the order in which they are asked: those with the least duty first.
    fn asked(&self) -> &[&'a Member] {
        self.asked.get_or_init(|| {
            let mut asked: Vec<&Member> = self.rests_on.plan.members.iter().collect();
            asked.sort_by_cached_key(|member| (self.minutes(member), &member.id.value));
            asked
        })
    }

    fn minutes(&self, member: &Member) -> i64 {
        let own = self.busy.get(&member.id.value).into_iter().flatten();
        own.map(|period| period.from.minutes_to(period.to)).sum()
    }
}

impl<'a> Fit<'a> {
    fn of(rests_on: Eligibility<'a>, nets: &[&'a Net], day: Day) -> Self {
        let channels = |net: &&'a Net| {
            let legs = net.legs.iter().filter_map(|leg| rests_on.plan.channels.get(&leg.channel.value));
            legs.map(|channel| rests_on.on(channel)).collect()
        };
        Self { of_nets: nets.iter().map(channels).collect(), day, members: Vec::new(), next: 0 }
    }

    /// A net is worked by who may send, with an own radio, on any channel that it tries. Who has no radio in the plan is not proposed
    /// for a net.
    fn works(&self, member: &Member) -> bool {
        let can = |net: &Vec<OnChannel<'a>>| {
            net.iter().any(|channel| channel.verdict_on(member, Some(self.day)) == Verdict::Sends)
        };
        self.of_nets.is_empty() || (!member.radios.is_empty() && self.of_nets.iter().all(can))
    }

    /// The one who comes at a place among those that can work the nets; further members are asked only where there is none yet.
    fn at(&mut self, place: usize, asked: &[&'a Member]) -> Option<&'a Member> {
        while self.members.len() <= place {
            let member = *asked.get(self.next)?;
            self.next += 1;
            if self.works(member) {
                self.members.push(member);
            }
        }
        self.members.get(place).copied()
    }
}
