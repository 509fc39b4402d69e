//! Who could stand a post when nobody does: free and rested then, and able to work each of its nets by law and with an own radio.

use super::{Eligibility, MuchDuty, OnChannel, Staff, Verdict};
use crate::ground::{Day, Id};
use crate::plan::{Clock, Instant, Member, Net, Period, Post};
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;

/// How many are named.
const NAMED: usize = 3;

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
        if self.is_too_long(gap) {
            return Vec::new();
        }
        let (nets, day) = (staff.nets_of(post), Clock::of(self.rests_on.plan).day(gap.to));
        let key = (nets.iter().map(|net| &net.id.value).collect(), day);
        let mut all = self.fit.borrow_mut();
        let fit = all.entry(key).or_insert_with(|| Fit::of(self.rests_on, &nets, day));
        let members = (0..).map_while(|place| fit.at(place, self.asked()));
        members.filter(|member| self.is_free(member, gap)).take(NAMED).collect()
    }

    /// Whether a time is longer than anybody stands at a stretch.
    #[must_use]
    pub fn is_too_long(&self, gap: Period) -> bool {
        gap.from.minutes_to(gap.to) > self.limits.longest.most
    }

    fn is_free(&self, member: &Member, gap: Period) -> bool {
        let own = self.busy.get(&member.id.value).into_iter().flatten();
        let rest = self.limits.rest.most;
        let rests_less = |end: Instant, begins: Instant| end.minutes_to(begins) < rest;
        let is_near = |period: &Period| rests_less(period.to, gap.from) && rests_less(gap.to, period.from);
        !own.into_iter().any(is_near)
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
