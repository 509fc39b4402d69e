//! What a plan is for happens while its edition counts.

use super::Facts;
use crate::ground::{At, Day, Finding, Findings, Rule, counted};
use crate::plan::{Clock, Duty, Edition, LocalTime, Period, Plan, subject};
use crate::reckon::Stand;

/// What a plan is for happens while its edition counts.
pub(super) const RULE: Rule = Rule::warning("period-outside-edition", "the plan's own dates", DOC);

const DOC: &str = r#"
Finds: an incident, or a duty beyond the incident's period, that begins before the edition counts or ends after the day by which it is to be reviewed. Of several duties the first that is too early and the last that is too late are said.
Costs: on that day people hold the paper of another edition, or one at which nobody has looked again.

Wrong:
```toml
[incident]
name = "Winter storm"
from = "2026-11-28 06:00"   # period-outside-edition
to = "2026-12-02 06:00"
```
Right: write the day of the incident, or let the edition count by then: `valid-from = 2026-11-28`.
"#;

/// Something that has its time.
struct Held<'a> {
    /// `the incident`, `the duty of Ines Varga at Net control`.
    words: String,
    from: At<LocalTime>,
    to: At<LocalTime>,
    period: Period,
    duty: Option<&'a Duty>,
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(edition) = &plan.edition else { return };
    let clock = Clock::of(plan);
    let incident = incident(plan, clock);
    let is_inside = |stand: &Stand<'_>| {
        incident.as_ref().is_some_and(|held| held.period.shared(stand.period) == Some(stand.period))
    };
    let duties: Vec<Stand<'_>> = facts.stands().iter().copied().filter(|stand| !is_inside(stand)).collect();
    let early: Vec<&Stand<'_>> = duties.iter().filter(|duty| is_early(clock, edition, duty.period)).collect();
    let mut late: Vec<&Stand<'_>> = duties.iter().filter(|duty| is_late(clock, edition, duty.period)).collect();
    late.sort_by_key(|duty| std::cmp::Reverse(duty.period.to));
    if let Some(held) = &incident {
        if is_early(clock, edition, held.period) {
            found.push(before(plan, edition, held, 0));
        }
        if is_late(clock, edition, held.period) {
            found.push(after(plan, edition, held, 0));
        }
    }
    if let Some((first, others)) = early.split_first() {
        found.push(before(plan, edition, &of_duty(plan, first), others.len()));
    }
    if let Some((last, others)) = late.split_first() {
        found.push(after(plan, edition, &of_duty(plan, last), others.len()));
    }
}

fn incident(plan: &Plan, clock: Clock) -> Option<Held<'static>> {
    let incident = plan.incident.as_ref()?;
    let (from, to) = (incident.from, incident.to);
    let period = Period { from: clock.instant(from.value), to: clock.instant(to.value) };
    let is_in_order = period.from < period.to;
    is_in_order.then(|| Held { words: "the incident".to_owned(), from, to, period, duty: None })
}

fn of_duty<'a>(plan: &Plan, stand: &Stand<'a>) -> Held<'a> {
    let duty = stand.duty;
    let member = plan.members.get(&duty.member).map_or_else(|| duty.member.to_string(), |known| known.name.to_string());
    let post = plan.posts.get(&duty.post).map_or_else(|| duty.post.to_string(), |known| known.name.to_string());
    let words = format!("the duty of {member} at {post}");
    Held { words, from: duty.from, to: duty.to, period: stand.period, duty: Some(duty) }
}

fn is_early(clock: Clock, edition: &Edition, period: Period) -> bool {
    clock.day(period.from) < edition.valid_from.value
}

fn is_late(clock: Clock, edition: &Edition, period: Period) -> bool {
    clock.last_day(period) > edition.review_by.value
}

fn before(plan: &Plan, edition: &Edition, held: &Held<'_>, others: usize) -> Finding {
    let (from, start) = (held.from, edition.valid_from);
    let what =
        format!("{} begins at {}, and the edition counts from {}{}", held.words, from.value, start.value, and(others));
    let day = Day::from_date(from.value.as_naive().date());
    let help = if day >= edition.issued.value {
        format!(
            "write the day that is meant or, where the edition is to count by then, `valid-from = {day}` in `[edition]`"
        )
    } else {
        format!("write the day that is meant: an edition issued on {} was not there then", edition.issued.value)
    };
    let finding = Finding::new(&RULE, from.span, what).label("before the edition counts").help(help);
    named(plan, finding.and(start.span, "the edition counts from here"), held)
}

fn after(plan: &Plan, edition: &Edition, held: &Held<'_>, others: usize) -> Finding {
    let (to, review) = (held.to, edition.review_by);
    let what = format!(
        "{} ends at {}, and the edition is to be reviewed by {}{}",
        held.words,
        to.value,
        review.value,
        and(others)
    );
    let last = Clock::of(plan).last_day(held.period);
    let help = format!(
        "write the day that is meant, or look through the plan for a later review and write `review-by = {last}` in `[edition]`"
    );
    let finding = Finding::new(&RULE, to.span, what).label("after the review").help(help);
    named(plan, finding.and(review.span, "reviewed by this day"), held)
}

fn and(others: usize) -> String {
    if others == 0 { String::new() } else { format!("; so with {}", counted(others, "further duty", "further duties")) }
}

fn named(plan: &Plan, finding: Finding, held: &Held<'_>) -> Finding {
    let post = held.duty.and_then(|duty| plan.posts.get(&duty.post)).map(subject);
    let member = held.duty.and_then(|duty| plan.members.get(&duty.member)).map(subject);
    post.into_iter().chain(member).fold(finding, Finding::on)
}
