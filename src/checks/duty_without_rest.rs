//! Nobody has duty day and night.

use super::Facts;
use crate::ground::{Finding, Findings, Id, Rule, hours_words};
use crate::plan::{Clock, Instant, Period, Plan, subject};
use crate::reckon::{MuchDuty, Stand};
use std::collections::BTreeMap;

/// Nobody has duty day and night.
pub(super) const RULE: Rule =
    Rule::warning("duty-without-rest", "common practice, no source: both limits are this program's own", DOC);

const DOC: &str = r#"
Finds: a member with more duty, at whatever posts, than `longest` of `[duty-limits]` without the time off that is a `rest` there: more than 16 hours without 8 hours off where the plan says nothing.
Costs: the last hours are stood by somebody who no longer hears the own call, or by nobody.

Wrong:
```toml
[[post]]
id = "desk"
name = "Desk"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"

[[duty]]
post = "desk"
member = "qra"              # duty-without-rest
from = "2026-12-05 18:00"
to = "2026-12-06 06:00"
```
Right: give one of the shifts to somebody else.
"#;

/// Duties of one member that no rest parts.
struct Spell<'a> {
    first: Stand<'a>,
    /// The duty by which it becomes too long.
    over: Option<Stand<'a>>,
    /// When the last of them has ended.
    to: Instant,
    /// Minutes of duty, those of two duties at once counted once.
    minutes: i64,
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let limits = MuchDuty::of(facts.plan);
    let (most, rest) = (limits.longest.most, limits.rest.most);
    let mut spells: BTreeMap<&Id, Vec<Spell<'_>>> = BTreeMap::new();
    for &stand in facts.stands() {
        let own = spells.entry(&stand.duty.member.value).or_default();
        match own.last_mut() {
            Some(spell) if spell.to.minutes_to(stand.period.from) < rest => spell.goes_on(stand, most),
            _ => own.push(Spell::new(stand, most)),
        }
    }
    for spell in spells.into_values().flatten() {
        found.extend(spell.over.and_then(|over| finding(facts.plan, &spell, over, limits)));
    }
}

impl<'a> Spell<'a> {
    fn new(first: Stand<'a>, most: i64) -> Self {
        let minutes = first.period.from.minutes_to(first.period.to);
        Self { first, over: (minutes > most).then_some(first), to: first.period.to, minutes }
    }

    fn goes_on(&mut self, stand: Stand<'a>, most: i64) {
        self.minutes += self.to.max(stand.period.from).minutes_to(stand.period.to).max(0);
        self.to = self.to.max(stand.period.to);
        if self.minutes > most {
            self.over.get_or_insert(stand);
        }
    }
}

fn finding(plan: &Plan, spell: &Spell<'_>, over: Stand<'_>, limits: MuchDuty) -> Option<Finding> {
    let member = plan.members.get(&over.duty.member)?;
    let when = Clock::of(plan).words(Period { from: spell.first.period.from, to: spell.to });
    let what = format!(
        "from {when} {} has {} of duty without {} off in between",
        member.name.value,
        hours_words(spell.minutes),
        hours_words(limits.rest.most)
    );
    let finding = Finding::new(&RULE, over.duty.member.span, what).label("too long by this duty");
    let finding = match over.duty.span == spell.first.duty.span {
        true => finding,
        false => finding.and(spell.first.duty.from.span, "begins here"),
    };
    let written = [(limits.longest.at, "the most duty"), (limits.rest.at, "this is a rest")];
    let written = written.into_iter().filter_map(|(at, what)| Some((at?, what)));
    let finding = written.fold(finding, |finding, (at, what)| finding.and(at, what));
    Some(
        finding
            .note(format!("the limit is {}", hours_words(limits.longest.most)))
            .help("write another `member` here, or let the duty end earlier and write a further `[[duty]]` for who comes then")
            .on(subject(member)),
    )
}
