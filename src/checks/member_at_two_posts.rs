//! A member stands at one post at a time.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule};
use crate::plan::{Duty, Post, subject};
use crate::reckon::{Clock, Period, Stand};
use std::collections::BTreeMap;

/// A member stands at one post at a time.
pub(super) const RULE: Rule = Rule::warning("member-at-two-posts", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a member with duties at two posts whose times overlap, where both posts are at one place or the plan does not say where one of them is. One person can mind two desks of one room for a while, so this is a warning; at two places nobody can be, and `member-at-two-places` is an error.
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
    first: (&'a Duty, &'a Post),
    second: (&'a Duty, &'a Post),
    shared: Period,
    /// Whether the two are at different places, as far as the plan says.
    pub is_apart: bool,
}

/// Every duty that begins while the same member stands at another post: with one such post, best one elsewhere.
pub(super) fn doubles<'a>(facts: Facts<'a>) -> Vec<Double<'a>> {
    let plan = facts.plan;
    let mut doubles = Vec::new();
    let mut standing: BTreeMap<&Id, Vec<Stand<'a>>> = BTreeMap::new();
    for &stand in facts.stands() {
        let own = standing.entry(&stand.duty.member.value).or_default();
        own.retain(|other| other.period.to > stand.period.from);
        let double = |other: &Stand<'a>| {
            let first = (other.duty, plan.posts.get(&other.duty.post)?);
            let second = (stand.duty, plan.posts.get(&stand.duty.post)?);
            let places = first.1.place.as_ref().zip(second.1.place.as_ref());
            let is_apart = places.is_some_and(|(first, second)| first.value != second.value);
            let is_other = first.1.id.value != second.1.id.value;
            let shared = other.period.shared(stand.period).filter(|_| is_other)?;
            Some(Double { first, second, shared, is_apart })
        };
        let mut found: Vec<Double<'a>> = own.iter().filter_map(double).collect();
        found.sort_by_key(|double| !double.is_apart);
        doubles.extend(found.into_iter().next());
        own.push(stand);
    }
    doubles
}

impl Double<'_> {
    /// The finding, at the duty that begins later.
    pub(super) fn finding(&self, facts: Facts<'_>, rule: &'static Rule, how: &str) -> Finding {
        let clock = Clock::of(facts.plan);
        let ((first, here), (second, there)) = (self.first, self.second);
        let id = &second.member.value;
        let name = facts.plan.members.get(id).map_or_else(|| id.to_string(), |member| member.name.to_string());
        let when = clock.words(self.shared);
        let what = format!("from {when} {name} stands at {} and at {} {how}", here.name.value, there.name.value);
        let ends = first.to.value;
        let is_longer = clock.instant(ends) < clock.instant(second.to.value);
        let finding = Finding::new(rule, second.member.span, what)
            .label(format!("stands at {} then", there.name.value))
            .and(first.member.span, format!("stands at {} then", here.name.value))
            .help(match is_longer {
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
