//! A member stands at one post at a time.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule};
use crate::plan::{Clock, Duty, Period, Post, subject};
use crate::reckon::Stand;
use std::collections::BTreeMap;

/// A member stands at one post at a time.
pub(super) const RULE: Rule = Rule::warning("member-at-two-posts", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a member with duties at two posts whose times overlap, where both posts are at one place or the plan does not say where one of them is; each two posts are told, of more than eight others at once the eight with the longest time in common. One person can mind two desks of one room for a while, so this is a warning; at two places nobody can be, and `member-at-two-places` is an error.
Costs: one of the posts is silent whenever the other is busy.

Wrong:
```toml
[[post]]
id = "eoc"
name = "EOC"

[[post]]
id = "packet"
name = "Packet desk"

[[duty]]
post = "eoc"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"

[[duty]]
post = "packet"
member = "qra"              # member-at-two-posts
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: give one of the posts to somebody else, or let one duty begin when the other has ended.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for double in doubles(facts).into_iter().filter(|double| !double.is_apart) {
        found.push(double.finding(facts, &RULE, "at once"));
    }
}

/// A member who stands at two posts at once.
pub(super) struct Double<'a> {
    first: AtPost<'a>,
    second: AtPost<'a>,
    shared: Period,
    /// Whether the two are at different places, as far as the plan says.
    pub is_apart: bool,
}

/// A member at a post without a break, by one duty or by several that overlap or follow each other.
#[derive(Clone, Copy)]
struct AtPost<'a> {
    post: &'a Post,
    /// By which it begins.
    begins: &'a Duty,
    /// By which it ends.
    ends: &'a Duty,
    period: Period,
}

/// Who stands at more posts at once than these is told of those with which the time in common is longest.
const MOST: usize = 8;

/// Everybody who stands at two posts at once, each two posts and each time once.
pub(super) fn doubles<'a>(facts: Facts<'a>) -> Vec<Double<'a>> {
    let mut of_members: BTreeMap<&Id, Vec<AtPost<'a>>> = BTreeMap::new();
    for standing in standings(facts) {
        of_members.entry(&standing.begins.member.value).or_default().push(standing);
    }
    let mut doubles = Vec::new();
    for mut standings in of_members.into_values() {
        standings.sort_by_key(|standing| standing.period);
        // At each post once.
        let mut now: Vec<AtPost<'a>> = Vec::new();
        for standing in standings {
            now.retain(|other| other.period.to > standing.period.from);
            let mut own: Vec<Double<'a>> = now.iter().filter_map(|other| Double::of(*other, standing)).collect();
            own.sort_by_key(|double| (!double.is_apart, -double.shared.from.minutes_to(double.shared.to)));
            doubles.extend(own.into_iter().take(MOST));
            now.push(standing);
        }
    }
    doubles
}

/// Every member at every post.
fn standings<'a>(facts: Facts<'a>) -> impl Iterator<Item = AtPost<'a>> {
    let mut all: BTreeMap<(&Id, &Id), Vec<AtPost<'a>>> = BTreeMap::new();
    for Stand { duty, period } in facts.stands() {
        let Some(post) = facts.plan.posts.get(&duty.post) else { continue };
        let own = all.entry((&duty.member.value, &duty.post.value)).or_default();
        match own.last_mut().filter(|last| period.from <= last.period.to) {
            Some(last) if period.to > last.period.to => (last.ends, last.period.to) = (duty, period.to),
            Some(_) => {}
            None => own.push(AtPost { post, begins: duty, ends: duty, period: *period }),
        }
    }
    all.into_values().flatten()
}

impl<'a> Double<'a> {
    /// Of two posts of one member, where they have a time in common.
    fn of(first: AtPost<'a>, second: AtPost<'a>) -> Option<Self> {
        let shared = first.period.shared(second.period)?;
        let places = first.post.place.as_ref().zip(second.post.place.as_ref());
        let is_apart = places.is_some_and(|(first, second)| first.value != second.value);
        Some(Self { first, second, shared, is_apart })
    }
}

impl Double<'_> {
    /// The finding, at the duty that begins later.
    pub(super) fn finding(&self, facts: Facts<'_>, rule: &'static Rule, how: &str) -> Finding {
        let clock = Clock::of(facts.plan);
        let (first, second) = (self.first, self.second);
        let (here, there) = (first.post, second.post);
        let id = &second.begins.member.value;
        let name = facts.plan.members.get(id).map_or_else(|| id.to_string(), |member| member.name.to_string());
        let when = clock.words(self.shared);
        let what = format!("from {when} {name} stands at {} and at {} {how}", here.name.value, there.name.value);
        let ends = first.ends.to.value;
        let is_one = |standing: AtPost<'_>| standing.begins.span == standing.ends.span;
        let can_wait = first.period.to < second.period.to && is_one(first) && is_one(second);
        let finding = Finding::new(rule, second.begins.member.span, what)
            .label(format!("stands at {} then", there.name.value))
            .and(first.begins.member.span, format!("stands at {} then", here.name.value))
            .help(match can_wait {
                true => format!(
                    "write another `member` in one of the two; or let this duty begin when the other ends, `from = \"{ends}\"`, and \
                     write a `[[duty]]` of somebody else at {} until then",
                    there.name.value
                ),
                false => "write another `member` in one of the two".to_owned(),
            });
        let finding = finding.on(subject(here)).on(subject(there));
        facts.plan.members.get(id).into_iter().fold(finding, |finding, member| finding.on(subject(member)))
    }
}
