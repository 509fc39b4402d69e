//! Nobody stands night after night.

use super::Facts;
use crate::ground::{Day, Finding, Findings, Id, Rule};
use crate::plan::{Clock, Member, Period, subject};
use crate::reckon::{Limit, MuchDuty, Stand, night_runs};
use std::collections::BTreeMap;

/// Nobody stands night after night.
pub(super) const RULE: Rule = Rule::warning(
    "too-many-nights",
    "three nights: HSE, HSG256 Managing shift work (2006), from memory; what a night is: common practice, no source",
    DOC,
);

const DOC: &str = r#"
Finds: a member with duty in more nights in a row than `nights` of `[duty-limits]` allows; than 3 where the plan says nothing. A night is two hours of duty at least between midnight and six by the clocks there, in one duty or in several; of a single duty as long as that `duty-without-rest` speaks. Three nights are what HSG256 of the British safety authority (2006, from memory) advises at most; what a night is, is common practice.
Costs: who has slept by day for the fourth time hears less, writes less, and drives home.

Wrong:
```toml
[duty-limits]
nights = 1

[[post]]
id = "desk"
name = "Desk"
to = "2026-12-05 06:00"

[[post]]
id = "gate"
name = "Gate"
from = "2026-12-06 00:00"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 00:00"
to = "2026-12-05 06:00"

[[duty]]
post = "gate"
member = "qra"              # too-many-nights
from = "2026-12-06 00:00"
to = "2026-12-06 06:00"
```
Right: give one of the nights to somebody else; or accept it for this member with the reason.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let most = MuchDuty::of(facts.plan).nights;
    let clock = Clock::of(facts.plan);
    let mut own: BTreeMap<&Id, Vec<Stand<'_>>> = BTreeMap::new();
    for &stand in facts.stands() {
        own.entry(&stand.duty.member.value).or_default().push(stand);
    }
    for stands in own.into_values() {
        let Some(member) = stands.first().and_then(|first| facts.plan.members.get(&first.duty.member)) else {
            continue;
        };
        let periods: Vec<Period> = stands.iter().map(|stand| stand.period).collect();
        let nights = clock.nights(&periods);
        for run in night_runs(&nights) {
            found.extend(finding(member, run, &stands, (most, clock)));
        }
    }
}

/// A run that is too long, at the duty of the first night that is over.
fn finding(member: &Member, run: &[Day], stands: &[Stand<'_>], (most, clock): (Limit, Clock)) -> Option<Finding> {
    let over = *run.get(usize::try_from(most.most).ok()?)?;
    let of_night = |night: Day| {
        let hours = clock.small_hours(night);
        stands.iter().find(|stand| stand.period.meets(hours))
    };
    let (first, duty) = (*run.first()?, of_night(over)?.duty);
    let what = format!(
        "{} stands {} nights in a row, from that of {first} to that of {}",
        member.name.value,
        run.len(),
        run.last()?
    );
    let begins = of_night(first);
    // Of one duty that is as long as all that `duty-without-rest` speaks.
    if begins.is_some_and(|begins| begins.duty.span == duty.span) {
        return None;
    }
    let finding = Finding::new(&RULE, duty.member.span, what).label(format!("the night of {over} is one too many"));
    let finding = begins.into_iter().fold(finding, |finding, begins| finding.and(begins.duty.from.span, "begins here"));
    let nights = if most.most == 1 { "night" } else { "nights" };
    let finding = match most.at {
        Some(at) => finding.and(at, format!("at most {} {nights}", most.most)),
        None => finding.note(format!(
            "the limit is {} {nights}, since the plan has none; write your own as `nights` in `[duty-limits]`",
            most.most
        )),
    };
    Some(finding.help("write another `member` for one of these nights").on(subject(member)))
}
