//! Who could stand a post when nobody does: free and rested then, and able to work each of its nets by law and with an own radio.

use super::{Clock, Eligibility, Instant, MuchDuty, Period, Staff, Verdict};
use crate::ground::{Day, Id};
use crate::plan::{Member, Net, Post};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// How many are named.
const NAMED: usize = 3;

/// All members by what they could stand.
pub struct StandIns<'a> {
    rests_on: Eligibility<'a>,
    /// How much duty is too much.
    limits: MuchDuty,
    /// When each member stands, in order of time.
    busy: BTreeMap<&'a Id, Vec<Period>>,
    /// Members who can work nets on a day, those with the least duty first.
    fit: RefCell<BTreeMap<Asked<'a>, Rc<Vec<&'a Member>>>>,
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
        Self { rests_on, limits, busy, fit: RefCell::default() }
    }

    /// The first who could stand a post for some time; none where it is longer than anybody stands at a stretch.
    #[must_use]
    pub fn for_post(&self, post: &'a Post, staff: &Staff<'a>, gap: Period) -> Vec<&'a Member> {
        if self.is_too_long(gap) {
            return Vec::new();
        }
        let fit = self.fit(&staff.nets_of(post), Clock::of(self.rests_on.plan).day(gap.to));
        fit.iter().filter(|member| self.is_free(member, gap)).take(NAMED).copied().collect()
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

    /// A net is worked by who may send, with an own radio, on any channel that it tries. Who has no radio in the plan is not proposed
    /// for a net.
    fn fit(&self, nets: &[&'a Net], day: Day) -> Rc<Vec<&'a Member>> {
        let key = (nets.iter().map(|net| &net.id.value).collect::<Vec<_>>(), day);
        if let Some(known) = self.fit.borrow().get(&key) {
            return Rc::clone(known);
        }
        let plan = self.rests_on.plan;
        let channels = |net: &&'a Net| {
            let legs = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel.value));
            legs.map(|channel| self.rests_on.on(channel)).collect::<Vec<_>>()
        };
        let of_nets: Vec<_> = nets.iter().map(channels).collect();
        let works = |member: &&'a Member| {
            let can = |net: &Vec<super::OnChannel<'a>>| {
                net.iter().any(|channel| channel.verdict_on(member, Some(day)) == Verdict::Sends)
            };
            of_nets.is_empty() || (!member.radios.is_empty() && of_nets.iter().all(can))
        };
        let mut fit: Vec<&Member> = plan.members.iter().filter(works).collect();
        fit.sort_by_key(|member| (self.minutes(member), &member.id.value));
        let fit = Rc::new(fit);
        self.fit.borrow_mut().insert(key, Rc::clone(&fit));
        fit
    }

    fn minutes(&self, member: &Member) -> i64 {
        let own = self.busy.get(&member.id.value).into_iter().flatten();
        own.map(|period| period.from.minutes_to(period.to)).sum()
    }
}
