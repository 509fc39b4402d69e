//! Stretches of time in which nobody stands at a post, for two rules: at net control, and elsewhere.

use crate::ground::{Finding, Rule, Span, listed};
use crate::plan::{Clock, Incident, Member, Period, Plan, Post, subject};
use crate::reckon::{Eligibility, Gap, Staff, Stand, StandIns, gaps, hours};

/// Where nobody stands at a post of the plan.
pub(super) struct Unstaffed<'a> {
    /// The post.
    pub post: &'a Post,
    /// When, and who stands around it.
    pub gap: Gap<'a>,
    /// Whether somebody stands there at any time in which it is meant to be stood.
    pub is_stood: bool,
    /// `2026-12-05 06:00 to 08:00`.
    pub when: String,
    /// Who could stand there then.
    pub stand_ins: Vec<&'a Member>,
}

/// Every gap at every post. None where the plan writes no duties, or one of the records by which a gap is told was refused: a post, a
/// duty, the incident, the plan's time zone.
pub(super) fn unstaffed<'a>(plan: &'a Plan, staff: &Staff<'a>, rests_on: Eligibility<'a>) -> Vec<Unstaffed<'a>> {
    let is_told = plan.head.is_some() && plan.has_all(&["plan", "incident", "post", "duty"]);
    if plan.duties.is_empty() || !is_told || !plan.duties.iter().all(|duty| plan.posts.knows(&duty.post)) {
        return Vec::new();
    }
    let clock = Clock::of(plan);
    let all = StandIns::of(rests_on);
    let mut unstaffed = Vec::new();
    for post in plan.posts.iter() {
        let here: Vec<Stand<'a>> = staff.stands_at(&post.id.value).collect();
        let hours = hours(plan, post, &staff.occasions);
        let is_stood = hours.iter().any(|hours| here.iter().any(|stand| stand.period.meets(*hours)));
        for gap in hours.iter().flat_map(|hours: &Period| gaps(&here, *hours)) {
            let stand_ins = all.for_post(post, staff, gap.period);
            unstaffed.push(Unstaffed { post, gap, is_stood, when: clock.words(gap.period), stand_ins });
        }
    }
    unstaffed
}

impl Unstaffed<'_> {
    /// The finding: at the duty that ends before the gap, else at the one that begins after it, else at `otherwise`.
    pub(super) fn finding(&self, plan: &Plan, rule: &'static Rule, what: String, otherwise: Span) -> Finding {
        let clock = Clock::of(plan);
        let (before, after) = (self.gap.before, self.gap.after);
        let finding = match (before, after) {
            (Some(before), _) => Finding::new(rule, before.to.span, what).label("the last to stand there goes"),
            (None, Some(after)) => Finding::new(rule, after.from.span, what).label("the first to stand there comes"),
            (None, None) => Finding::new(rule, otherwise, what).label("nobody has a duty there"),
        };
        let finding = match (before, after) {
            (Some(_), Some(after)) => finding.and(after.from.span, "the next comes"),
            _ => finding,
        };
        let finding = match (&plan.incident, before.and(after)) {
            (Some(incident), None) => edge(finding, incident, before.is_some()),
            _ => finding,
        };
        let (from, to) = (clock.written(self.gap.period.from), clock.written(self.gap.period.to));
        let id = &self.post.id.value;
        let names: Vec<String> =
            self.stand_ins.iter().map(|one| format!("{} (\"{}\")", one.name.value, one.id.value)).collect();
        let who = match names.is_empty() {
            true => "a `member`".to_owned(),
            false => format!("a `member` who is free then, rested, and may work its nets, as {}", listed(&names)),
        };
        finding.on(subject(self.post)).help(format!(
            "write a `[[duty]]` with `post = \"{id}\"`, {who}, `from = \"{from}\"` and `to = \"{to}\"`; where it is not meant to be \
             stood then, write its hours as `from` and `to` of the post"
        ))
    }
}

/// Which end of the incident's period the gap reaches.
fn edge(finding: Finding, incident: &Incident, is_end: bool) -> Finding {
    match is_end {
        true => finding.and(incident.to.span, "the period ends here"),
        false => finding.and(incident.from.span, "the period begins here"),
    }
}
